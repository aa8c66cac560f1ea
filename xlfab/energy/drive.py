"""Drives: hydraulic and shaft power, pump and motor efficiency, and the chain from grid to ram of the four drive families.

Hydraulic: motor, pump, valves, cylinder. Servo-hydraulic: the same chain without throttling. Electric, ball screw:
inverter, motor, belt or gear, screw. Electric, belt: inverter, motor, belt, belt falls.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.core.registry import function


@function("mechanics")
def hydraulic_power_kw(pressure_bar: Any, flow_l_per_min: Any) -> Any:
    """Power in a stream of oil.

    Arguments: pressure_bar [bar], flow_l_per_min [l/min].
    Returns: [kW].
    Holds: p Q / 600; pressure over the pump or the cylinder, flow at that pressure.
    Sources: mechanics.

    >>> hydraulic_power_kw(200, 45)
    15.0
    """
    return pressure_bar * flow_l_per_min / 600


@function("mechanics")
def shaft_power_kw(torque_nm: Any, speed_per_min: Any) -> Any:
    """Power of a turning shaft.

    Arguments: torque_nm [N·m], speed_per_min [1/min].
    Returns: [kW].
    Holds: 2 pi n M / 60,000.
    Sources: mechanics.

    >>> round(shaft_power_kw(100, 1500), 2)
    15.71
    """
    return 2 * np.pi / 60_000 * torque_nm * speed_per_min


@function("pump-efficiency", domain="a pump cannot give more than its shaft brings")
def pump_efficiency_share(hydraulic_power_kw: Any, shaft_power_kw: Any) -> Any:
    """Overall efficiency of a pump: hydraulic power over shaft power.

    Arguments: hydraulic_power_kw [kW] at the actual flow, shaft_power_kw [kW].
    Returns: [share].
    Holds: volumetric and hydro-mechanical losses together, at one working point.
    Sources: pump-efficiency.

    >>> pump_efficiency_share(12, 15)
    0.8
    """
    share = hydraulic_power_kw / shaft_power_kw
    return np.where(share <= 1, share, np.nan)


@function("efficiency-chain")
def motor_input_kw(shaft_power_kw: Any, motor_efficiency_share: Any) -> Any:
    """Electric power that a motor draws for a shaft power.

    Arguments: shaft_power_kw [kW], motor_efficiency_share [share] at this load.
    Returns: [kW].
    Holds: efficiency falls below about half load, so a nameplate figure is the best case.
    Sources: efficiency-chain.

    >>> motor_input_kw(9, 0.9)
    10.0
    """
    return shaft_power_kw / motor_efficiency_share


def _class_share(power: Any, a: float, b: float, c: float, d: float) -> Any:
    """The standard's polynomial in the decimal logarithm of the rated power, per cent as a share."""
    x = np.log10(power)
    share = (((a * x + b) * x + c) * x + d) / 100
    return np.where((power >= 0.75) & (power <= 200), share, np.nan)


@function("iec-60034-30", domain="the class table runs from 0.75 to 200 kW")
def motor_efficiency_ie2_share(rated_power_kw: Any) -> Any:
    """Lowest full-load efficiency of a four-pole motor of class IE2 at 50 Hz.

    Arguments: rated_power_kw [kW].
    Returns: [share].
    Holds: 0.75 to 200 kW, full load; interpolation polynomial of the standard, printed tables round it to 0.1 %.
    Sources: iec-60034-30.

    >>> round(motor_efficiency_ie2_share(11), 3)
    0.898
    """
    return _class_share(rated_power_kw, 0.0278, -1.9247, 10.4395, 80.9761)


@function("iec-60034-30", domain="the class table runs from 0.75 to 200 kW")
def motor_efficiency_ie3_share(rated_power_kw: Any) -> Any:
    """Lowest full-load efficiency of a four-pole motor of class IE3 at 50 Hz.

    Arguments: rated_power_kw [kW].
    Returns: [share].
    Holds: 0.75 to 200 kW, full load; interpolation polynomial of the standard, printed tables round it to 0.1 %.
    Sources: iec-60034-30.

    >>> round(motor_efficiency_ie3_share(7.5), 3)
    0.904
    """
    return _class_share(rated_power_kw, 0.0773, -1.8951, 9.2984, 83.7025)


@function("iec-60034-30", domain="the class table runs from 0.75 to 200 kW")
def motor_efficiency_ie2_two_pole_share(rated_power_kw: Any) -> Any:
    """Lowest full-load efficiency of a two-pole motor of class IE2 at 50 Hz.

    Arguments: rated_power_kw [kW].
    Returns: [share].
    Holds: 0.75 to 200 kW, full load; interpolation polynomial of the standard, printed tables round it to 0.1 %.
    Sources: iec-60034-30.

    >>> round(motor_efficiency_ie2_two_pole_share(7.5), 3)
    0.881
    """
    return _class_share(rated_power_kw, 0.2972, -3.3454, 13.0651, 79.077)


@function("iec-60034-30", domain="the class table runs from 0.75 to 200 kW")
def motor_efficiency_ie3_two_pole_share(rated_power_kw: Any) -> Any:
    """Lowest full-load efficiency of a two-pole motor of class IE3 at 50 Hz.

    Arguments: rated_power_kw [kW].
    Returns: [share].
    Holds: 0.75 to 200 kW, full load; interpolation polynomial of the standard, printed tables round it to 0.1 %.
    Sources: iec-60034-30.

    >>> round(motor_efficiency_ie3_two_pole_share(0.75), 3)
    0.807
    """
    return _class_share(rated_power_kw, 0.3569, -3.3076, 11.6108, 82.2503)


@function("efficiency-chain")
def hydraulic_drive_efficiency_share(
    motor_efficiency_share: Any, pump_efficiency_share: Any, valve_efficiency_share: Any, cylinder_efficiency_share: Any
) -> Any:
    """Efficiency from grid to ram of a hydraulic drive: motor, pump, valves, cylinder.

    Arguments: motor_efficiency_share [share], pump_efficiency_share [share], valve_efficiency_share [share] (about 0.7 where valves throttle, 0.95 with a variable-speed pump), cylinder_efficiency_share [share].
    Returns: [share].
    Holds: while the ram works under load; what the pump draws without load is counted as ready power.
    Sources: efficiency-chain.

    >>> round(hydraulic_drive_efficiency_share(0.91, 0.85, 0.7, 0.92), 2)
    0.5
    """
    return motor_efficiency_share * pump_efficiency_share * valve_efficiency_share * cylinder_efficiency_share


@function("efficiency-chain")
def servo_drive_efficiency_share(
    inverter_efficiency_share: Any,
    motor_efficiency_share: Any,
    belt_efficiency_share: Any,
    ram_drive_efficiency_share: Any,
) -> Any:
    """Efficiency from grid to ram of an electric drive: inverter, motor, belt or gear, then screw or belt falls.

    Arguments: inverter_efficiency_share [share], motor_efficiency_share [share], belt_efficiency_share [share], ram_drive_efficiency_share [share] of the screw or of the several belt falls.
    Returns: [share].
    Holds: while the ram works under load.
    Sources: efficiency-chain.

    >>> round(servo_drive_efficiency_share(0.96, 0.92, 0.96, 0.9), 2)
    0.76
    """
    return inverter_efficiency_share * motor_efficiency_share * belt_efficiency_share * ram_drive_efficiency_share
