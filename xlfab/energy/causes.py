"""The same energy split by what caused it: idle, forming or cutting, lifting, and losses of the drive.

Idle is the base power over the whole time. Forming and lifting are the work itself; losses are what the drive draws beyond it.
Idle + forming + lifting + losses equals the sum over the states.
"""

from __future__ import annotations

from typing import Any

from xlfab.core.registry import function


@function("efficiency-chain")
def net_lift_kj(lift_work_kj: Any, spring_lift_share: Any, recovered_share: Any) -> Any:
    """Lift that the drive does, less what lowering gives back.

    Arguments: lift_work_kj [kJ], spring_lift_share [share] of the lift done by springs, recovered_share [share] of the lowering energy.
    Returns: [kJ].
    Holds: recovered energy is useful to another consumer at once.
    Sources: efficiency-chain.

    >>> round(net_lift_kj(1.19, 0, 0.3), 3)
    0.833
    """
    return lift_work_kj * (1 - spring_lift_share) * (1 - recovered_share)


@function("efficiency-chain")
def lift_loss_kj(lift_work_kj: Any, spring_lift_share: Any, drive_efficiency_share: Any) -> Any:
    """What the drive loses while it lifts.

    Arguments: lift_work_kj [kJ], spring_lift_share [share] of the lift done by springs, drive_efficiency_share [share].
    Returns: [kJ].
    Holds: together with the net lift it is the lift's electricity.
    Sources: efficiency-chain.

    >>> round(lift_loss_kj(1.19, 0, 0.7), 2)
    0.51
    """
    return lift_work_kj * (1 - spring_lift_share) * (1 / drive_efficiency_share - 1)


@function("efficiency-chain")
def work_loss_kj(work_kj: Any, drive_efficiency_share: Any) -> Any:
    """What the drive loses while it bends or cuts.

    Arguments: work_kj [kJ], drive_efficiency_share [share].
    Returns: [kJ].
    Holds: together with the work it is the work's electricity.
    Sources: efficiency-chain.

    >>> round(work_loss_kj(0.9, 0.45), 6)
    1.1
    """
    return work_kj * (1 / drive_efficiency_share - 1)


@function("energy-by-state")
def cause_energy_kj(idle_energy_kj: Any, work_kj: Any, net_lift_kj: Any, drive_loss_kj: Any) -> Any:
    """Sum of the energy by cause: idle, forming or cutting, lifting, losses of the drive.

    Arguments: idle_energy_kj [kJ], work_kj [kJ], net_lift_kj [kJ], drive_loss_kj [kJ].
    Returns: [kJ].
    Holds: equals the sum over the states.
    Sources: energy-by-state.

    >>> cause_energy_kj(32, 0.9, 1.2, 2.5)
    36.6
    """
    return idle_energy_kj + work_kj + net_lift_kj + drive_loss_kj


@function("gum-first-order")
def difference_uncertainty_kwh(first_uncertainty_kwh: Any, second_uncertainty_kwh: Any) -> Any:
    """Uncertainty of the difference between two energies that are uncertain on their own.

    Arguments: first_uncertainty_kwh [kWh], second_uncertainty_kwh [kWh].
    Returns: [kWh].
    Holds: independent; what both share (price, hours, handling) belongs in neither.
    Sources: gum-first-order.

    >>> difference_uncertainty_kwh(300, 400)
    500.0
    """
    return (first_uncertainty_kwh**2 + second_uncertainty_kwh**2) ** 0.5
