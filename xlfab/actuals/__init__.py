"""Actual times of finished lots compared with the estimate, and the factors that follow."""
