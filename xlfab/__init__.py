"""xlfab: cycle time, energy and cost per part for shearing and press-brake bending, and what a machine purchase changes.

Every calculation takes numbers or numpy arrays, which broadcast as numpy does, and returns a float for floats.
Import the calculations from `xlfab.catalogue` or from the folder of their trade: process, cycle_time, energy, cost, investment.
"""

__version__ = "0.1.0"
