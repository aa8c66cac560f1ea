"""One adapter for each spreadsheet program; no function names inside."""
