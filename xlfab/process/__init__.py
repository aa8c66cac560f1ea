"""What the sheet needs: force, work, flat blank, checks."""
