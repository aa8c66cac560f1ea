"""Work that the drive must deliver or lift, and what it draws for that."""

from __future__ import annotations

from typing import Any

import numpy as np

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


@function("spring-return", "efficiency-chain")
def ram_lift_energy_kj(
    lift_work_kj: Any, spring_lift_ratio: Any, drive_efficiency_share: Any, recovered_share: Any
) -> Any:
    """Electricity drawn to lower the ram and lift it once: the drive pays on one way, and gets a part back on the other.

    Springs that carry the ram are no free lift: they have to be stretched on the way down. With W the lift work and k W the work
    that the springs take up on the way down and give back on the way up:

        no springs, k = 0:  the drive lifts, W; on the way down it brakes W
        k below 1:          the drive lifts what springs leave, (1 - k) W; on the way down it brakes as much
        in balance, k = 1:  the falling ram stretches the springs, and they lift it
        k above 1:          the drive stretches what the falling ram leaves, (k - 1) W; on the way up it brakes as much

    So the drive pays |1 - k| W on one way, through its efficiency, and brakes |1 - k| W on the other, of which the recovered share
    comes back. Springs that must raise the ram with its heaviest tools, at speed and against friction, are well above balance.

    Arguments: lift_work_kj [kJ], spring_lift_ratio [ratio] work of the springs over the lift work (0 without springs), drive_efficiency_share [share], recovered_share [share] of the energy that is braked.
    Returns: [kJ].
    Holds: recovered energy is useful to another consumer at once; losses inside the springs are left out.
    Sources: spring-return, efficiency-chain.

    >>> round(ram_lift_energy_kj(1.19, 0, 0.7, 0.3), 2), round(ram_lift_energy_kj(1.19, 1.5, 0.7, 0.3), 2)
    (1.34, 0.67)
    """
    driven = lift_work_kj * np.abs(1 - spring_lift_ratio)
    return driven / drive_efficiency_share - driven * recovered_share


@function("spring-return", "efficiency-chain")
def net_lift_kj(lift_work_kj: Any, spring_lift_ratio: Any, recovered_share: Any) -> Any:
    """Work that the drive does on the ram, less what comes back on the other way: the useful part of the lift's electricity.

    Arguments: lift_work_kj [kJ], spring_lift_ratio [ratio] work of the springs over the lift work (0 without springs), recovered_share [share] of the energy that is braked.
    Returns: [kJ].
    Holds: as ram_lift_energy_kj; the rest of the lift's electricity is lost in the drive.
    Sources: spring-return, efficiency-chain.

    >>> round(net_lift_kj(1.19, 0, 0.3), 3), round(net_lift_kj(1.19, 1.5, 0.3), 4)
    (0.833, 0.4165)
    """
    return lift_work_kj * np.abs(1 - spring_lift_ratio) * (1 - recovered_share)
