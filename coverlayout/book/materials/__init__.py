"""What has to be cut, of every material."""
