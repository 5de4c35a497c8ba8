"""Settings are read strictly, all mistakes at once with their lines, and come back as they were set."""

from __future__ import annotations

from dataclasses import fields
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tui.desk.settings import (
    Instrument,
    Settings,
    changed,
    explanations,
    flattened,
    from_yaml,
    load,
    save,
    to_yaml,
)
from tui.quantity import Refused

FULL = """\
# mine
units: SI
region: EU
altitude: 1200 ft
technician: p-1f0c22ab
theme: daylight
instruments:
  low-gauge:
    good to: 0.5 psi
    calibrated: 2026-03-01
  clamp:
    good to: 1 dF
keys:
  undo: ctrl+z
"""


def test_all_of_it() -> None:
    settings = from_yaml("settings.yaml", FULL)
    assert settings.units == "SI"
    assert settings.instruments == {
        "low-gauge": Instrument("0.5 psi", date(2026, 3, 1)),
        "clamp": Instrument("1 dF"),
    }
    assert settings.accuracies == {"low-gauge": "0.5 psi", "clamp": "1 dF"}
    assert settings.calibrations == {"low-gauge": "2026-03-01"}
    assert settings.keys == {"undo": "ctrl+z"}
    # ISO 2533 standard atmosphere at 365.76 m (1200 ft): 970.1 hPa
    assert settings.atmosphere.pa == pytest.approx(97008, abs=10)
    site = settings.site(date(2026, 11, 25))
    assert site == {"today": "2026-11-25", "altitude": settings.altitude, "region": "EU"}


def test_nothing_set(tmp_path: Path) -> None:
    assert load(tmp_path / "settings.yaml") == Settings()
    assert Settings().site(date(2026, 11, 25)) == {"today": "2026-11-25"}
    assert Settings().atmosphere.pa == 101325.0
    for text in ("", "\n\n", "# nothing yet\n"):
        (tmp_path / "settings.yaml").write_text(text)
        assert load(tmp_path / "settings.yaml") == Settings()
    assert from_yaml("s", "theme:\ninstruments:\nkeys:\n") == Settings()


def test_written_and_read_again(tmp_path: Path) -> None:
    path = tmp_path / "new" / "settings.yaml"
    settings = from_yaml("settings.yaml", FULL)
    save(path, settings)
    assert load(path) == settings
    assert path.read_text() == FULL.replace("# mine\n", "")


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("unit: US\n", ["s:1:1", "no setting called 'unit'", "units"]),
        ("units: metric\n", ["s:1:8", "One of: US, SI"]),
        ("region: E U\n", ["s:1:9", "EU"]),
        ("altitude: 1200\n", ["s:1:11", "altitude"]),
        ("altitude: 12 psig\n", ["s:1:11"]),
        ("altitude: 40000 ft\n", ["s:1:11", "altitude"]),
        ("barometer: 29.9\n", ["s:1:12"]),
        ("barometer: 3 bara\n", ["s:1:12", "barometer"]),
        ("barometer: 29.1 inHg\naltitude: 90 m\n", ["s:1:12", "only one can hold"]),
        ("instruments:\n  low-gauge:\n    good to: fine\n", ["s:3:14", "instruments.low-gauge.good-to"]),
        ("instruments:\n  low-gauge:\n    good to: 0 psi\n", ["s:3:14", "never wrong", "0.5 psi"]),
        ("instruments:\n  low-gauge:\n    good to: -1 psi\n", ["s:3:14", "from zero up", "0.5 psi"]),
        ("instruments:\n  low-gauge:\n    good to: 400 psi\n", ["s:3:14", "so wide", "at most 100 psi"]),
        ("instruments:\n  low-gauge:\n    calibrated: yesterday\n", ["s:3:17"]),
        ("instruments:\n  low-gauge:\n    good: 1 psi\n", ["s:3:5", "no setting"]),
        ("instruments:\n  low-gauge: 1 psi\n", ["s:2:3", "no setting"]),
        ("instruments: all\n", ["s:1:1", "shape"]),
        ("instruments:\n- clamp\n", ["s:1:1", "shape"]),
        ("units:\n  US: yes\n", ["no setting"]),
        ("keys:\n  undo: a b\n", ["s:2:9", "single word"]),
        ("technician: An Example Name\n", ["s:1:13", "single word"]),
        ("units: US\nunits: SI\n", ["s:2:1"]),
        ("units: {a: b}\n", ["s:1:8"]),
        ("units: &a US\n", ["s:1:8"]),
        ("- a\n", ["s:1:1"]),
        ("units: 'US\n", ["s:1:8"]),
        ("\tunits: US\n", ["s:1:1"]),
        ("a: " + "[" * 3000, ["s:1:"]),
        ("unit: US\naltitude: high\ntheme: a b\n", ["s:1:1", "s:2:11", "s:3:8"]),
    ],
)
def test_every_mistake_with_its_place(text: str, words: list[str]) -> None:
    with pytest.raises(Refused) as refused:
        from_yaml("s", text)
    for word in words:
        assert word in str(refused.value)


def test_a_broken_line_is_told_once() -> None:
    with pytest.raises(Refused) as refused:
        from_yaml("s", "altitude: *here\n")
    assert str(refused.value).count("s:1:") == 1


def test_setting_one_thing() -> None:
    settings = Settings()
    for key, text in (
        ("units", "si"),
        ("altitude", "1200 ft"),
        ("instruments.low-gauge.good-to", "1 % of 250 psi"),
        ("instruments.low-gauge.calibrated", "2026-03-01"),
        ("keys.undo", "f9"),
    ):
        settings = changed(settings, key, text)
    assert flattened(settings) == {
        "units": "SI",
        "altitude": "1200 ft",
        "instruments.low-gauge.good-to": "1 % of 250 psi",
        "instruments.low-gauge.calibrated": "2026-03-01",
        "keys.undo": "f9",
    }
    assert changed(settings, "altitude", "").altitude is None
    assert from_yaml("s", to_yaml(settings)) == settings


@pytest.mark.parametrize(
    ("key", "text", "words"),
    [
        ("altitud", "3 ft", "Did you mean altitude?"),
        ("instruments.low-gauge", "1 psi", "no setting"),
        ("instruments.LOW GAUGE.good-to", "1 psi", "no setting"),
        ("altitude", "very high", "altitude"),
        ("instruments.clamp.good-to", "0 dF", "never wrong"),
        ("instruments.clamp.good-to", "0.5 psi", "As in: 1 dF."),
        ("instruments.clamp.good-to", "1 % of reading", "As in: 1 dF."),
        ("instruments.scale.good-to", "1 dF", "As in: 2 g."),
        ("instruments.clamp.good-to", "90 dF", "at most 36 dF"),
        ("barometer", "985 mbar", "only one can hold"),
        ("", "x", "no setting"),
    ],
)
def test_setting_what_cannot_be(key: str, text: str, words: str) -> None:
    with pytest.raises(Refused) as refused:
        changed(changed(Settings(), "altitude", "90 m"), key, text)
    assert words in str(refused.value)
    assert ":0:" not in str(refused.value)


def test_what_could_not_be_read_again_is_not_written(tmp_path: Path) -> None:
    path = tmp_path / "settings.yaml"
    save(path, Settings(theme="daylight"))
    with pytest.raises(Refused):
        save(path, Settings(theme="noon"))
    assert load(path).theme == "daylight"


def test_a_read_only_place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def denied(*arguments: object, **named: object) -> None:
        raise OSError(30, "Read-only file system")

    monkeypatch.setattr(Path, "open", denied)
    with pytest.raises(Refused, match="read-only"):
        save(tmp_path / "settings.yaml", Settings())
    (tmp_path / "settings.yaml").mkdir()


def test_a_folder_in_its_place(tmp_path: Path) -> None:
    with pytest.raises(Refused, match="folder"):
        load(tmp_path)


def test_every_field_is_explained() -> None:
    said = explanations()
    wanted = {each.name.replace("_", "-") for each in fields(Settings)}
    wanted |= {f"instruments.NAME.{each.name.replace('_', '-')}" for each in fields(Instrument)}
    assert set(said) == wanted
    assert all(said.values())


keys = st.sampled_from(["units", "altitude", "region", "instruments", "keys", "good to", "calibrated", "- x"])
values = st.one_of(
    st.text(max_size=12),
    st.sampled_from(["US", "90 m", "2026-02-30", "9999-12-31", "0001-01-01", "1e999 m", "'", "[[", "1 % of 0 psi"]),
)


@given(st.lists(st.tuples(st.sampled_from(["", "  ", "    "]), keys, values), max_size=6))
def test_only_refusals_come_out(lines: list[tuple[str, str, str]]) -> None:
    text = "".join(f"{indent}{key}: {value}\n" for indent, key, value in lines)
    try:
        settings = from_yaml("s", text) if text else Settings()
    except Refused:
        return
    assert from_yaml("s", to_yaml(settings)) == settings
