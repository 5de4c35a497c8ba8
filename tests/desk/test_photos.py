"""Photos: copied whole beside the session, under a safe name, never over another; one clear message else."""

from __future__ import annotations

import os
from hashlib import sha256
from pathlib import Path

import pytest

from tests.desk.visits import TO_THE_END, begun, library, typed, walked
from tests.record.helpers import HandClock
from tui.desk import photos
from tui.desk.photos import keep, keep_after, safe_name
from tui.desk.session import resume
from tui.quantity import Refused
from tui.record import read, verify
from tui.record.replay import replay
from tui.walk.following import followed


@pytest.fixture
def session(tmp_path: Path) -> Path:
    return tmp_path / "2026-11-25T0930-K-12-0a0a.jsonl"


@pytest.fixture
def photo(tmp_path: Path) -> Path:
    path = tmp_path / "taken" / "leak: flare nut?.JPG"
    path.parent.mkdir()
    path.write_bytes(b"\xff\xd8 light and shade")
    return path


def test_it_is_copied_whole_with_its_digest(session: Path, photo: Path) -> None:
    name, digest = keep(session, str(photo))
    kept = session.with_suffix("") / name
    assert name == "leak-flare-nut.JPG"
    assert kept.read_bytes() == photo.read_bytes()
    assert digest == sha256(photo.read_bytes()).hexdigest()
    assert photo.exists(), "it is a copy"


def test_none_is_written_over_whatever_the_capitals(session: Path, photo: Path) -> None:
    first = keep(session, str(photo))
    photo.write_bytes(b"another")
    upper = photo.with_name("LEAK: FLARE NUT?.JPG")
    upper.write_bytes(b"a third")
    assert [keep(session, str(each))[0] for each in (photo, upper)] == ["leak-flare-nut-2.JPG", "LEAK-FLARE-NUT-3.JPG"]
    assert sha256((session.with_suffix("") / first[0]).read_bytes()).hexdigest() == first[1]


def test_one_that_lies_there_already_is_only_recorded(session: Path, photo: Path) -> None:
    name, digest = keep(session, str(photo))
    assert keep(session, str(session.with_suffix("") / name)) == (name, digest)
    assert len(list(session.with_suffix("").iterdir())) == 1


def test_copy_and_folder_are_on_the_disk_before_it_is_recorded(
    session: Path, photo: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The folder's own name stands in the folder of the sessions: that is synced too."""
    synced: list[Path] = []
    real = os.fsync

    def fsync(handle: int) -> None:
        synced.append(Path(os.readlink(f"/proc/self/fd/{handle}")))
        real(handle)

    monkeypatch.setattr(os, "fsync", fsync)
    visit = begun(session)
    synced.clear()
    typed(visit, f"photo {photo}")
    visit.leave()
    folder = session.with_suffix("")
    assert synced == [folder.parent, folder / "leak-flare-nut.JPG", folder, session]


@pytest.mark.parametrize("form", ["'{}'", '"{}"', " {} ", "escaped"])
def test_as_it_is_typed_or_dragged_in(session: Path, photo: Path, form: str) -> None:
    text = str(photo).replace(" ", "\\ ") if form == "escaped" else form.format(photo)
    assert keep(session, text)[0] == "leak-flare-nut.JPG"


@pytest.mark.parametrize(
    ("name", "safe"),
    [
        ("a<b>|c*.png", "a-b-c.png"),
        ("con.jpg", "photo-con.jpg"),
        ("LPT1", "photo-LPT1"),
        ("...", "photo"),
        ("trailing. ", "trailing"),
        ("Кран 3.heic", "Кран-3.heic"),
        ("x" * 300 + ".jpeg", "x" * 75 + ".jpeg"),
        ("\u202egpj.exe", "gpj.exe"),
        ("a.tar.gz", "a.tar.gz"),
    ],
)
def test_names_every_system_bears(name: str, safe: str) -> None:
    assert safe_name(name) == safe


def test_what_is_no_photo_is_refused_and_leaves_nothing(
    session: Path, photo: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    nothing = photo.with_name("nothing.jpg")
    nothing.touch()
    pipe = photo.with_name("pipe.jpg")
    os.mkfifo(pipe)
    for typed_path, code in (
        (photo.parent, "not-a-file"),
        (pipe, "not-a-file"),
        (photo.with_name("gone.jpg"), "missing"),
        (photo / "in-it.jpg", "missing"),
        (nothing, "empty"),
        ("", "empty"),
        ("a\0b.jpg", "bad-name"),
        ("x" * 400, "bad-name"),
    ):
        with pytest.raises(Refused) as caught:
            keep(session, str(typed_path))
        assert caught.value.code == code
    monkeypatch.setattr(photos, "LARGEST", 5)
    with pytest.raises(Refused, match="too much for a photo"):
        keep(session, str(photo))
    with pytest.raises(Refused, match="no file"):
        keep(None, str(photo))
    assert not session.with_suffix("").exists()


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="root may read everything")
def test_one_that_may_not_be_read(session: Path, photo: Path) -> None:
    photo.chmod(0)
    with pytest.raises(Refused, match="no right"):
        keep(session, str(photo))


def test_half_a_copy_does_not_stay(session: Path, photo: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(handle: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(Refused) as caught:
        keep(session, str(photo))
    assert caught.value.code == "disk-full"
    assert list(session.with_suffix("").iterdir()) == []


def test_one_added_wherever_the_power_went_hinders_no_resume(tmp_path: Path, photo: Path) -> None:
    """Also between an answer and what follows from it: that is written behind the photo."""
    path = tmp_path / "visit.jsonl"
    walked(path, *TO_THE_END)
    lines, events = path.read_bytes().splitlines(keepends=True), read(path).events
    for kept in range(1, len(lines)):
        path.write_bytes(b"".join(lines[:kept]))
        keep_after(path, str(photo), HandClock())
        assert replay(path).same
        resumed = resume(path, library(), HandClock())
        resumed.visit.leave()
        after = read(path).events
        assert after[:kept] == events[:kept]
        assert after[kept]["event"] == "photographed"
        assert after[kept + 1 : -1] == events[kept : len(after) - 2]
        assert followed(after)[kept + 1 : -1] == followed(events)[kept : len(after) - 2], "of the answer, not the photo"
        assert replay(path).same


def test_line_by_line(session: Path, photo: Path) -> None:
    visit = begun(session)
    _, shown = typed(visit, f"photo {photo}", "photo /nowhere/a.jpg", "close enough", "photo x")
    visit.leave()
    assert "Kept with this visit as leak-flare-nut.JPG." in shown
    assert "No: /nowhere/a.jpg: cannot keep the photo: there is no such file or folder." in shown
    (event,) = [event for event in read(session).events if event["event"] == "photographed"]
    assert (event["name"], event["digest"]) == ("leak-flare-nut.JPG", sha256(photo.read_bytes()).hexdigest())
    assert verify(session).state == "whole"
    assert replay(session).same
