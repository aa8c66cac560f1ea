"""What the machine did: plain runs, shifts, blips, days left on, warm-ups, coarse registers."""

from __future__ import annotations

from .case import Case, of
from .machines import DRIVES, OFF, READY, STANDBY, WARM_UP, blip, only, plain, shifts
from .writing import Style


def courses() -> list[Case]:
    """What the machine did: states must get their right names and powers."""
    result = []
    for drive in DRIVES:
        result += [
            Case(f"plain {drive}", of(plain, drive), must_read=True),
            Case(f"blip {drive}", of(blip, drive), must_read=True, judge=("powers", "energy", "hours")),
            Case(f"shift {drive}", of(shifts, drive), must_read=True),
            Case(f"standby at night {drive}", of(shifts, drive, night=STANDBY), must_read=True),
        ]
    for drive in ("hydraulic", "ball screw", "belt"):
        result += [
            Case(f"left on {drive}", of(shifts, drive, 2, days=3.0, left_on=(1,)), must_read=True),
            Case(
                f"warm-up only {drive}",
                of(only, drive, seconds=1500, state=WARM_UP),
                sound=False,
                words="short|warm-up",
            ),
            Case(f"a minute only {drive}", of(only, drive, seconds=60, state=READY), sound=False, words="short"),
            Case(
                f"half an hour ready {drive}",
                of(only, drive, seconds=1800, state=READY),
                sound=False,
                words="short|no stroke",
            ),
            Case(
                f"standby only {drive}",
                of(only, drive, seconds=20_000, state=STANDBY),
                sound=False,
                words="stroke|standby",
            ),
            Case(f"instant {drive}", of(plain, drive, instant=True), judge=("powers", "hours")),
            Case(f"drift {drive}", of(shifts, drive, drift=0.03), must_read=True),
        ]
    result += [
        Case(f"off only {d}", of(only, d, seconds=7200, state=OFF), sound=False, words="stroke|off") for d in ("plain",)
    ]
    for watts in (10, 50, 100, 250):
        style = Style(digits=2)
        result.append(Case(f"steps of {watts} W", of(shifts, "hydraulic", resolution_kw=watts / 1000), style))
        result.append(Case(f"steps of {watts} W electric", of(shifts, "ball screw", resolution_kw=watts / 1000), style))
    return result
