"""Show what lowside remembers about you, or set it.

  lowside settings
  lowside settings set altitude "1200 ft"
  lowside settings set instruments.low-gauge.good-to "0.2 psi"
  lowside settings set altitude ""            takes it back
"""

from __future__ import annotations

import argparse


def arguments(parser: argparse.ArgumentParser) -> None:
    act = parser.add_subparsers(dest="act", metavar="set KEY VALUE")
    setting = act.add_parser("set", prog="lowside settings set", description="Set one thing, or take it back.")
    setting.add_argument("key", metavar="KEY", help="as `lowside settings` lists them")
    setting.add_argument("value", nargs="+", metavar="VALUE", help='with its unit; "" takes it back')


def in_order(given: list[str]) -> list[str]:
    """A value may begin with a minus sign: `set altitude -30 ft`."""
    return [*given[:2], "--", *given[2:]] if given[:1] == ["set"] and len(given) > 2 else given


def run(options: argparse.Namespace) -> int:
    """Print every key with its value and what it means; or write the file anew."""
    from tui.desk.home import home
    from tui.desk.settings import changed, load, save

    path = home().settings
    settings = load(path)
    if options.act == "set":
        save(path, changed(settings, options.key, " ".join(options.value)))
        print(f"Set in {path}.")
    else:
        print(f"Settings in {path}" + ("" if path.exists() else " (not there yet: nothing is set)"))
        print("\n".join(_lines(settings)))
    return 0


def _lines(settings: object) -> list[str]:
    from tui.desk.settings import Settings, explanations, flattened

    assert isinstance(settings, Settings)
    set_ = flattened(settings)
    lines = []
    for key, meaning in explanations().items():
        lines.append(f"\n{key}: {set_.pop(key, '-')}\n  {meaning}")
    return lines + [f"{key}: {text}" for key, text in set_.items()]
