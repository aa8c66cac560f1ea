"""What the user states, as data, with the origin of each value."""
