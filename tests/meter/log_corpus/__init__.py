"""Power logs of invented shops with known truth, as loggers write them: python -m log_corpus.run (in tests/meter) prints the table."""
