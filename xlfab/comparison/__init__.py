"""The comparison of machines: estimate, doubt, verdict, its sheets and its commands."""
