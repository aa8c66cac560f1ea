"""Commands of the command line, by topic; each file adds its own to the one app."""
