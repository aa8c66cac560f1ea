"""Power logs of invented shops with known truth, as loggers write them: python -m corpus.run (in tests/meter) prints the table."""
