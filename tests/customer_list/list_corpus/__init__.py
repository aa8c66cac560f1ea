"""Lists with known truth."""
