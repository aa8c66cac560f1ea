"""What a purchase changes: cash flows and their measures."""
