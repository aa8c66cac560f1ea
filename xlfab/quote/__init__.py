"""The estimator's quote: its file, prices, sheets and commands."""
