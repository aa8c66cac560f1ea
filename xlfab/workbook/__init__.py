"""Workbooks: sheets of columns and cells, each an input or a calculation of others."""
