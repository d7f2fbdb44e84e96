"""Tables, words and icons that come with the program."""
