"""Work that the drive must deliver or lift, and what it draws for that."""

from __future__ import annotations

from typing import Any

from xlfab.core.registry import function

STANDARD_GRAVITY_M_S2 = 9.80665


@function("mechanics")
def ram_lift_work_kj(ram_mass_kg: Any, ram_travel_mm: Any) -> Any:
    """Work to lift the ram and its tools once.

    Arguments: ram_mass_kg [kg], ram_travel_mm [mm].
    Returns: [kJ].
    Holds: m g h; kinetic energy is left out (23 J for 1,800 kg at 160 mm/s).
    Sources: mechanics.

    >>> round(ram_lift_work_kj(1800, 100), 3)
    1.765
    """
    return ram_mass_kg * STANDARD_GRAVITY_M_S2 * ram_travel_mm / 1e6


@function("efficiency-chain")
def drive_input_kj(work_kj: Any, drive_efficiency_share: Any) -> Any:
    """Electricity drawn for a piece of work, through the drive's efficiency from grid to ram or blade.

    Arguments: work_kj [kJ], drive_efficiency_share [share].
    Returns: [kJ].
    Holds: efficiency while pressing; idle power is counted apart.
    Sources: efficiency-chain.

    >>> drive_input_kj(0.9, 0.45)
    2.0
    """
    return work_kj / drive_efficiency_share


@function("efficiency-chain")
def ram_lift_energy_kj(
    lift_work_kj: Any, spring_lift_share: Any, drive_efficiency_share: Any, recovered_share: Any
) -> Any:
    """Electricity drawn to lift the ram once, less what lowering gives back.

    Arguments: lift_work_kj [kJ], spring_lift_share [share] of the lift done by springs, drive_efficiency_share [share], recovered_share [share] of the lowering energy.
    Returns: [kJ].
    Holds: recovered energy is useful to another consumer at once.
    Sources: efficiency-chain.

    >>> round(ram_lift_energy_kj(1.19, 0, 0.7, 0.3), 2)
    1.34
    """
    driven = lift_work_kj * (1 - spring_lift_share)
    return driven / drive_efficiency_share - driven * recovered_share
