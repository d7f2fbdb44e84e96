"""Whether a project can be; asked by the file's door and by every edit."""
