"""What the shop floor spends: motion, strokes, gauge, handling, set-up, cycle."""
