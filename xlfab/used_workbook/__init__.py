"""A workbook that comes back from its user: what changed, its inputs read back, a copy for the customer."""
