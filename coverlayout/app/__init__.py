"""Starts everything: the command line, the window, the worker process; the one place where parts are wired together."""
