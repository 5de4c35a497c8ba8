"""Enthalpies out of a child process: right, without holes, and the child ends with whoever started it."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from itertools import pairwise
from math import exp, log
from pathlib import Path

import numpy
import pyromat
import pytest

from tui import refrigerant as r
from tui.refrigerant.build.enthalpies import answer
from tui.refrigerant.enthalpy import GONE, Enthalpies, Point
from tui.refrigerant.table import table

PYROMAT = {"R-134a": "mp.C2H2F4", "R-1234ze(E)": "mp.C3H2F4_1", "R-744": "mp.CO2"}
pyromat.config["unit_pressure"] = "Pa"
pyromat.config["unit_temperature"] = "K"
pyromat.config["unit_matter"] = "kg"
pyromat.config["unit_energy"] = "kJ"


def number(value: object) -> float:
    return float(numpy.asarray(value).ravel()[0])


def asked(refrigerant: str, points: list[Point]) -> list[float]:
    """kJ/kg; every point must have one."""
    found = answer({"refrigerant": refrigerant, "points": points})["enthalpies"]
    assert None not in found, refrigerant
    return [each / 1000 for each in found]


def range_of(refrigerant: str) -> tuple[float, float]:
    """Pa: what both lines of its table hold."""
    found = table(refrigerant)
    return max(found.bubble.low, found.dew.low), min(found.bubble.high, found.dew.high)


@pytest.mark.parametrize("name", PYROMAT)
@pytest.mark.parametrize("celsius", [-30, 0, 25])
def test_evaporation_and_superheating_against_pyromat(name: str, celsius: int) -> None:
    """PYroMat (C. R. Martin) shares no code with the library that is asked. Measured: within 0.04 kJ/kg."""
    kelvin = celsius + 273.15
    pa = r.dew_pressure(name, kelvin)
    low = 0.5 * pa
    points: list[Point] = [("bubble", kelvin, pa, pa), ("dew", kelvin, pa, pa), ("gas", kelvin + 20, low, low)]
    liquid, vapour, superheated = asked(name, points)
    fluid = pyromat.get(PYROMAT[name])
    their_liquid, their_vapour = (number(each) for each in fluid.hs(T=kelvin))
    assert vapour - liquid == pytest.approx(their_vapour - their_liquid, abs=0.1)
    assert superheated - vapour == pytest.approx(number(fluid.h(T=kelvin + 20, p=low)) - their_vapour, abs=0.1)


@pytest.mark.parametrize("name", ["R-134a", "R-744"])
def test_compression_without_loss_against_pyromat(name: str) -> None:
    kelvin, high = 268.15, 303.15
    pa, to_pa = r.dew_pressure(name, kelvin - 8), r.dew_pressure(name, high - 3)
    start, end = asked(name, [("gas", kelvin, pa, pa), ("compressed", kelvin, pa, to_pa)])
    fluid = pyromat.get(PYROMAT[name])
    hot = number(fluid.T_s(s=number(fluid.s(T=kelvin, p=pa)), p=to_pa))
    theirs = number(fluid.h(T=hot, p=to_pa)) - number(fluid.h(T=kelvin, p=pa))
    assert end - start == pytest.approx(theirs, abs=0.1)


@pytest.mark.parametrize("name", r.ids())
def test_no_refrigerant_has_a_hole_in_its_dome(name: str) -> None:
    low, high = range_of(name)
    points: list[Point] = []
    for step in range(41):
        pa = min(high, max(low, exp(log(low) + (log(high) - log(low)) * step / 40)))
        points += [("bubble", r.bubble_temperature(name, pa), pa, pa), ("dew", r.dew_temperature(name, pa), pa, pa)]
    found = asked(name, points)
    gaps = [dew - bubble for bubble, dew in zip(found[::2], found[1::2], strict=True)]
    assert all(gap > 0 for gap in gaps)
    assert all(here > above for here, above in pairwise(gaps[5:])), "narrower towards the top"


@pytest.mark.parametrize("name", r.ids())
def test_every_refrigerant_has_a_cycle(name: str) -> None:
    """From 5 K of superheat at -20 °C up to 30 °C, or as near to its top as a cycle goes."""
    pa = r.dew_pressure(name, 253.15)
    to_pa = r.bubble_pressure(name, min(303.15, table(name).high_K - 6))
    bubble, dew = r.bubble_temperature(name, to_pa), r.dew_temperature(name, pa)
    points: list[Point] = [
        ("gas", dew + 5, pa, pa),
        ("compressed", dew + 5, pa, to_pa),
        ("liquid", bubble - 4, to_pa, to_pa),
        ("bubble", bubble, to_pa, to_pa),
    ]
    vapour, compressed, liquid, saturated = asked(name, points)
    assert liquid < saturated < vapour < compressed


def test_a_compression_that_would_end_wet_ends_at_dew() -> None:
    pa, to_pa = r.dew_pressure("R-600a", 263.15), r.dew_pressure("R-600a", 353.15)
    compressed, dew = asked("R-600a", [("compressed", 263.35, pa, to_pa), ("dew", 353.15, to_pa, to_pa)])
    assert compressed == pytest.approx(dew, abs=0.3)


def test_what_lies_outside_the_tables_has_no_enthalpy() -> None:
    found = answer({"refrigerant": "R-134a", "points": [("bubble", 100.0, 0.0, 0.0), ("gas", 300.0, 1e5, 1e5)]})
    assert found["enthalpies"][0] is None
    assert found["enthalpies"][1] is not None


def test_a_refrigerant_that_is_none_is_a_problem_not_an_end() -> None:
    assert "problem" in answer({"refrigerant": "R-0", "points": []})


# ---- the child


def waited_for(service: Enthalpies, refrigerant: str, points: list[Point]) -> list[float | None] | str:
    until = time.monotonic() + 60
    while (found := service.of(refrigerant, points)) is None:
        assert time.monotonic() < until
        time.sleep(0.02)
    return found


GAS: list[Point] = [("gas", 300.0, 1e5, 1e5)]


@pytest.mark.slow
def test_the_child_answers_and_the_answer_is_kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Whatever lies where the program was started from: a folder called tui there is not taken for it."""
    (tmp_path / "tui").mkdir()
    (tmp_path / "tui" / "__init__.py").write_text("raise SystemExit(7)")
    monkeypatch.chdir(tmp_path)
    service = Enthalpies()
    assert service.of("R-134a", GAS) is None, "nothing waits for it"
    assert service.waiting
    found = waited_for(service, "R-134a", GAS)
    assert found == answer({"refrigerant": "R-134a", "points": GAS})["enthalpies"]
    assert service.of("R-134a", GAS) is found
    assert waited_for(service, "R-290", GAS) != found
    assert not service.waiting
    service.close()


_PARENT = """
import os, signal
from tui.refrigerant.enthalpy import Enthalpies
service = Enthalpies()
service.of("R-134a", [("gas", 300.0, 1e5, 1e5)])
print(service._child.pid, flush=True)
os.kill(os.getpid(), signal.SIGKILL)
"""


@pytest.mark.slow
@pytest.mark.skipif(sys.platform == "win32", reason="kills by signal")
def test_the_child_ends_with_a_program_that_was_killed() -> None:
    parent = subprocess.run([sys.executable, "-c", _PARENT], capture_output=True, text=True, check=False)
    assert parent.returncode == -signal.SIGKILL
    child = int(parent.stdout)
    until = time.monotonic() + 60
    while is_running(child):
        assert time.monotonic() < until, "the child lives on"
        time.sleep(0.05)


def is_running(pid: int) -> bool:
    """Not gone, and no mere entry that nobody has collected."""
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return False
    status = Path(f"/proc/{pid}/stat")
    return not status.exists() or status.read_text().rpartition(")")[2].split()[0] != "Z"


WITHOUT = "import sys; sys.modules['CoolProp'] = None; import tui.refrigerant.build.enthalpies"


@pytest.mark.parametrize(
    ("command", "says"),
    [
        (["/nowhere/at/all"], "The property library can't be started"),
        (["sh", "-c", "echo nonsense; cat >/dev/null"], "The property library's answer can't be read."),
        (["sh", "-c", "exit 3"], GONE),
        ([sys.executable, "-c", WITHOUT], GONE),
    ],
    ids=["not there", "nonsense", "ends", "no CoolProp"],
)
def test_a_child_that_does_not_work_is_one_sentence(command: list[str], says: str) -> None:
    service = Enthalpies(command)
    found = waited_for(service, "R-134a", GAS)
    assert isinstance(found, str)
    assert found.startswith(says)
    assert not service.waiting
    service.close()


def test_after_a_child_that_ended_the_next_question_starts_another() -> None:
    service = Enthalpies(["sh", "-c", "exit 3"])
    assert waited_for(service, "R-134a", GAS) == GONE
    assert waited_for(service, "R-290", GAS) == GONE
    assert service.of("R-134a", GAS) == GONE
    service.close()
