"""What a part costs: machine-hour rate, labour, material, part cost."""
