"""What the meter counts: work, drives, power states, tariffs at the machine."""
