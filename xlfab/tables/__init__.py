"""Tables: columns that are inputs or follow from other columns by a rule, worked out in passes and printed as formulas."""
