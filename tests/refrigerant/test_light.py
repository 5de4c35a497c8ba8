"""What a walk pays: no property library, one small file a refrigerant, some microseconds a look-up."""

from __future__ import annotations

import subprocess
import sys
import timeit

from tui import refrigerant as r

SCRIPT = """
import sys
from tui import refrigerant as r
assert r.dew_temperature(r.resolve("r134a"), 101325.0) > 240
r.facts("R-134a"), r.nitrogen_pressure(1e6, 300.0, 290.0)
heavy = sorted({"CoolProp", "numpy", "pandas", "textual", "rich", "asyncio"} & set(sys.modules))
from tui.refrigerant import table
print(heavy, sorted(table._tables))
"""


def test_nothing_heavy_is_imported_and_one_table_is_read() -> None:
    done = subprocess.run([sys.executable, "-c", SCRIPT], capture_output=True, text=True, check=True)
    assert done.stdout.split("\n")[0] == "[] ['R-134a']"


def test_a_look_up_is_at_most_200_dict_look_ups() -> None:
    """Both measured here, in turns, the best of seven: what a loaded machine adds falls on both."""
    table = {str(i): i for i in range(100)}
    r.dew_temperature("R-448A", 3e5)
    look, plain = [], []
    for _ in range(7):
        look.append(timeit.timeit(lambda: r.dew_temperature("R-448A", 3e5), number=2000))
        plain.append(timeit.timeit(lambda: table["57"], number=2000))
    assert min(look) <= 200 * min(plain)
