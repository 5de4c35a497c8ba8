"""The fast way of writing an event gives the same bytes as the package rfc8785."""

from __future__ import annotations

from enum import StrEnum
from hashlib import sha256

import pytest
import rfc8785
from hypothesis import given
from hypothesis import strategies as st

from tui.record.canonical import canonical, fingerprint

numbers = st.one_of(
    st.integers(-(2**53) + 1, 2**53 - 1),
    st.floats(allow_nan=False, allow_infinity=False),
    st.floats(-1e4, 1e4).map(lambda x: round(x, 3)),
)
texts = st.text(st.characters(exclude_categories=["Cs"]), max_size=12)
values = st.recursive(
    st.one_of(st.none(), st.booleans(), numbers, texts),
    lambda inner: st.one_of(st.lists(inner, max_size=4), st.dictionaries(texts, inner, max_size=4)),
    max_leaves=20,
)


@given(values)
def test_equals_the_reference(value: object) -> None:
    assert canonical(value) == rfc8785.dumps(value)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("value", "written"),
    [
        # RFC 8785 section 3.2.3 (sorting) and appendix B (numbers)
        ({"\u20ac": 1, "\r": 2, "\ufb33": 3, "1": 4, "\U0001f600": 5, "\u0080": 6, "\u00f6": 7},
         '{"\\r":2,"1":4,"\u0080":6,"\u00f6":7,"\u20ac":1,"\U0001f600":5,"\ufb33":3}'),
        ([333333333.33333329, 1e30, 4.5, 2e-3], "[333333333.3333333,1e+30,4.5,0.002]"),
        ([1e-27, -0.0, 1.0], "[1e-27,0,1]"),
        ({"b": [], "a": {}}, '{"a":{},"b":[]}'),
        ("\u20ac$\u000f\nA'B\"\\/\x7f", '"\u20ac$\\u000f\\nA\'B\\"\\\\/\x7f"'),
    ],
)  # fmt: skip
def test_published_forms(value: object, written: str) -> None:
    assert canonical(value) == written.encode()


class Word(StrEnum):
    LOW = "low"


def test_tuples_and_words_of_an_enum_are_written_as_lists_and_text() -> None:
    assert canonical({"a": (1, Word.LOW)}) == b'{"a":[1,"low"]}'


@pytest.mark.parametrize(
    "value", [2**53, -(2**53), float("nan"), float("inf"), "\ud800", {1: 2}, object(), b"x", {"a": {3}}]
)
def test_what_has_no_exact_form_is_refused(value: object) -> None:
    with pytest.raises(ValueError):
        canonical({"x": value})


def test_fingerprint_is_sha256_of_the_bytes() -> None:
    assert fingerprint({"b": 1, "a": 2}) == sha256(b'{"a":2,"b":1}').hexdigest()
