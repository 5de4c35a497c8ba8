"""Trees as graphs: which step leads where, with which words."""

from __future__ import annotations

from tests.tree.check.overlay import laid_over
from tui.tree.check.graph import NOWHERE, OFF_THE_END, Graph
from tui.tree.library import Library


def graph_of(example: str) -> Graph:
    return Graph(Library.from_texts(laid_over(example)).trees)


def led(graph: Graph, step: str) -> list[tuple[str, str, str]]:
    """(kind, label, where to) of each way on from a step of the example."""
    nodes = graph.flows["example"].nodes
    names = {OFF_THE_END: "off the end", NOWHERE: "nowhere"}
    ways = []
    for edge in graph.successors("example", step):
        to = names.get(edge.to) or nodes[edge.to].name + (" (turn)" if nodes[edge.to].turns else "")
        ways.append((edge.kind, edge.label, to))
    return ways


REPEAT = """
- ask: nameplate-charge
  couldn't: done
- repeat: look
  at most: 3 rounds
  each round:
  - ask: needles, scale
  - decide: steady
    by: needles
    rows:
      steady: done
      swinging: carry on
  - caution: moving-fans
  when scale is above 1 kg: heavy
  when rounds run out: carry on
- back: seen <scale>
  name: heavy
- back: done
  name: done
""".replace(" <scale>", "").strip()


def test_steps_lead_down_and_aside() -> None:
    graph = graph_of(REPEAT)
    assert led(graph, "ask-nameplate-charge") == [("next", "", "look"), ("couldn't", "couldn't", "done")]


def test_a_decide_leads_where_its_rows_say() -> None:
    ways = led(graph_of(REPEAT), "steady")
    assert ways == [("row", "steady", "done"), ("row", "swinging", "caution-moving-fans")]


def test_the_end_of_a_round_is_the_turn() -> None:
    graph = graph_of(REPEAT)
    assert led(graph, "caution-moving-fans") == [("next", "", "look (turn)")]
    assert led(graph, "look") == [("stop", "when scale is above 1 kg", "heavy"), ("round", "", "ask-needles")]
    flow = graph.flows["example"]
    turn = flow.nodes[flow.turn[flow.at["look"]]]
    assert [(edge.kind, edge.label, flow.nodes[edge.to].name) for edge in turn.edges] == [
        ("stop", "when scale is above 1 kg", "heavy"),
        ("round", "next round", "ask-needles"),
        ("out", "rounds run out", "heavy"),
    ]


def test_a_call_leads_where_its_outcomes_say() -> None:
    example = """
- go: take-suction
  comes back:
    taken: carry on
    swinging: other
- back: seen
- back: other
  name: other
""".strip()
    graph = graph_of(example)
    assert led(graph, "go-take-suction") == [("outcome", "taken", "back-seen"), ("outcome", "swinging", "other")]
    assert led(graph, "other") == []


def test_a_guard_leads_past_its_step() -> None:
    graph = graph_of("- ask: needles\n- ask: frost\n  only when: needles is steady\n- back: seen")
    assert led(graph, "ask-frost") == [("skip", "not needed", "back-seen"), ("next", "", "back-seen")]


def test_a_wait_leads_elsewhere_if_it_is_cut_short() -> None:
    wait = "- wait: hold\n  for: 1 h\n  because: a leak needs time\n  cut short: other\n"
    graph = graph_of(f"{wait}- back: seen\n- back: other\n  name: other")
    assert led(graph, "hold") == [("next", "", "back-seen"), ("cut short", "cut short", "other")]


def test_everything_below_is_reachable_from_the_first_step() -> None:
    flow = graph_of(REPEAT).flows["example"]
    assert flow.reachable() == frozenset(range(len(flow.nodes)))
    assert flow.reachable(flow.at["heavy"]) == {flow.at["heavy"]}
