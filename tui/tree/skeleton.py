"""The beginnings of a new tree: it holds as it stands, with examples for every row of it."""

from __future__ import annotations

_TREE = """\
# A skeleton: it holds as it stands. Put your own questions and findings in the place of these.
tree: {name}
title: {title}
edition: 1
of: circuit
unsettled: cannot-be-told
steps:
- caution: moving-fans
- ask: door-closes, box-wanted, box-air
  question: Look at the door. Then read the air in the middle of the box.
  why: A door that stands open looks like a circuit that is too weak.
- judge: box-level
  compare: box-air
  with: box-wanted
  band: box-band
- decide: door-or-circuit
  by: door-closes, box-level
  rows:
    no, any: door-stays-open
    yes, low or on: box-is-cold
    yes, high: box-is-warm
- finding: door-stays-open
  cause: door-or-gasket
  seen: The door does not close. Box <box-air>, wanted <box-wanted>.
  next: Mend the door, wait until the box is down, then look again.
- finding: box-is-cold
  cause: refrigeration-is-well
  seen: Box <box-air>, wanted <box-wanted>, and the door closes.
  next: Ask when it is too warm; leave a logger in it for a day.
- finding: box-is-warm
  could be: heavy-load, evaporator-fan, evaporator-iced, short-of-charge
  told apart by: a look at the fan and the frost, then clamps on the circuit
  seen: Box <box-air>, wanted <box-wanted>, and the door closes.
  next: Cover off. Look at the fan and at the frost.
- finding: cannot-be-told
  could be: door-or-gasket, heavy-load, refrigeration-is-well
  told apart by: a probe in the middle of the box, and a look at the door
  seen: Door or box could not be looked at, or the box is too near to the edge.
  next: Come back with an air probe.
"""
_EXAMPLES = """\
# Every visit here is invented.
{name}-door-open:
  why: Invented. The door stands open, the box is warm.
  tree: {name}
  site: {{altitude: 300 ft}}
  circuits: {{main: {{door-closes: no, box-wanted: 38 °F, box-air: 55 °F}}}}
  expect:
  - {{cause: door-or-gasket, at: {name}/door-stays-open}}
{name}-cold:
  why: Invented. The door closes and the box is at what is wanted.
  tree: {name}
  site: {{altitude: 300 ft}}
  circuits: {{main: {{door-closes: yes, box-wanted: 38 °F, box-air: 38 °F}}}}
  expect:
  - {{cause: refrigeration-is-well, at: {name}/box-is-cold}}
{name}-warm:
  why: Invented. The door closes and the box is far too warm.
  tree: {name}
  site: {{altitude: 300 ft}}
  circuits: {{main: {{door-closes: yes, box-wanted: 38 °F, box-air: 60 °F}}}}
  expect:
  - cause: cannot-tell
    at: {name}/box-is-warm
    could_be: [heavy-load, evaporator-fan, evaporator-iced, short-of-charge]
{name}-nobody-looked:
  why: Invented. No probe at hand and nobody looked at the door.
  tree: {name}
  site: {{altitude: 300 ft}}
  circuits: {{main: {{box-wanted: 38 °F}}}}
  expect:
  - {{cause: cannot-tell, at: {name}/cannot-be-told, could_be: [door-or-gasket, heavy-load, refrigeration-is-well]}}
"""


def skeleton(name: str) -> tuple[str, str]:
    """The text of a tree called `name`, to lie over those of lowside, and that of its examples."""
    title = f"{name.replace('-', ' ').capitalize()} - what is to be found out?"
    return _TREE.format(name=name, title=title), _EXAMPLES.format(name=name)
