"""Conformance: every function in every host at the same points. `python -m xlfab.hosts.conformance [NAME ...]` shows the matrix."""
