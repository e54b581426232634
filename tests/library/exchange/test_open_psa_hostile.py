"""Whatever the bytes, an import gives a tree file that loads or problems with a place, and nothing else."""

from __future__ import annotations

import random
import time

from hypothesis import given, settings
from hypothesis import strategies as st

from faultree.library.exchange.open_psa import Options, read_open_psa
from faultree.library.load import load_texts
from faultree.library.values import control
from tests.oracles.random_models import random_model

FULL = random_model(random.Random(7))
PIECES = [
    *("<", ">", "/>", "</and>", "<and>", "<not>", '"', "'", "&amp;", "&e;", "&#0;", "&#x202e;", "<!--", "-->", "]]>"),
    *("<![CDATA[", '<!DOCTYPE x [<!ENTITY e "y">]>', "<?x y?>", "e1", "g1", "a--b", "1e999", "-1", "nan", "\x00", "é"),
    *('<gate name="g1"/>', '<event name="e9"/>', "<label>x</label>", "<attributes/>", '<constant value="true"/>'),
    *('name="', 'value="0"', ' role="private"', ' min="0"', "<define-component name='D'>", "</define-component>"),
    *('<attributes><attribute name="faultree-item" value="p"/></attributes>', "x" * 300, "\u2028", "\ufeff"),
]
edits = st.lists(
    st.tuples(st.integers(0, len(FULL)), st.integers(0, 40), st.sampled_from(PIECES) | st.text(max_size=3)),
    min_size=1,
    max_size=4,
)


def _sound(content: bytes) -> None:
    found = read_open_psa(content, "f.xml", "f", Options(10.0, "remote"))
    assert (found.text is None) == bool(found.problems)
    if found.text is not None:
        load_texts({"f.yaml": found.text})
    for problem in found.problems:
        text = str(problem)
        assert text.startswith("f.xml")
        assert control(text) is None
        assert problem.message
        assert problem.hint


@given(st.binary(max_size=80))
@settings(max_examples=150, derandomize=True)
def test_any_bytes(content: bytes) -> None:
    _sound(content)
    _sound(b"<opsa-mef>" + content + b"</opsa-mef>")


@given(edits)
@settings(max_examples=300, derandomize=True)
def test_a_model_with_pieces_cut_and_put_in(changes: list[tuple[int, int, str]]) -> None:
    text = FULL
    for place, cut, piece in changes:
        text = text[:place] + piece + text[place + cut :]
    _sound(text.encode("utf-8", "replace"))


NAMES = st.text(st.characters(codec="utf-8", exclude_categories=("Cc", "Cs")), max_size=6)


@given(NAMES, NAMES, NAMES)
@settings(max_examples=150, derandomize=True)
def test_any_names_labels_and_attributes(name: str, label: str, value: str) -> None:
    """Texts of any script: each is kept, or refused with its place."""
    from xml.sax.saxutils import escape, quoteattr

    text = (
        f"<opsa-mef><define-fault-tree name='F'><define-gate name={quoteattr(name)}><label>{escape(label)}</label>"
        f"<attributes><attribute name='a' value={quoteattr(value)}/></attributes><constant value='true'/></define-gate>"
        "</define-fault-tree></opsa-mef>"
    )
    _sound(text.encode())


def test_a_file_that_is_wrong_all_over_ends_soon() -> None:
    """The work for remedies and the list of problems are bounded."""
    gates = "".join(
        f'<define-gate name="g{n}"><or><event name="e{n}"/><not/></or></define-gate>' for n in range(20_000)
    )
    text = f'<opsa-mef><define-fault-tree name="F">{gates}</define-fault-tree></opsa-mef>'
    started = time.perf_counter()
    found = read_open_psa(text.encode(), "f.xml", "f")
    assert len(found.problems) == 501
    assert time.perf_counter() - started < 60
