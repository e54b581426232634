"""Sums and maxima over groups: what a loop over the groups gives, for one column or many, short groups or long."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from faultree.belief.segments import Segments

Floats = NDArray[np.float64]

LENGTHS = {
    "one": [1],
    "ones": [1, 1, 1, 1],
    "falling": [5, 3, 3, 2, 1],
    "in no order": [1, 4, 2, 9, 1, 3],
    "long": [200, 30, 25, 24, 23, 1],
    "long among short": [2, 100, 1, 1, 77, 3, 24, 25],
    "one long": [1000],
    "two long among many short": [1, 60, *[2, 1] * 12, 30],
    "none": [],
}


def groups(lengths: list[int]) -> list[slice]:
    """Where each group lies."""
    ends = np.cumsum(lengths).tolist() if lengths else []
    return [slice(end - length, end) for end, length in zip(ends, lengths, strict=True)]


def entries(count: int, columns: int | None, seed: int = 0) -> Floats:
    """Random weights of very different sizes, some of them 0."""
    rng = np.random.default_rng(seed)
    shape = (count,) if columns is None else (count, columns)
    values = 10.0 ** rng.uniform(-9.0, 0.0, shape)
    values[rng.random(shape) < 0.1] = 0.0
    return np.asarray(values)


def places(count: int, total: int, seed: int = 1) -> NDArray[np.intp]:
    """Places to gather from, with repetition."""
    return np.random.default_rng(seed).integers(0, count, total).astype(np.intp)


def segments(lengths: list[int], gather: NDArray[np.intp] | None = None) -> Segments:
    return Segments.of(np.array(lengths, dtype=np.intp), gather)


@pytest.mark.parametrize("columns", [None, 1, 2, 7])
@pytest.mark.parametrize("gathered", [False, True])
@pytest.mark.parametrize("shape", LENGTHS)
def test_a_sum_is_the_sum_of_each_group(shape: str, gathered: bool, columns: int | None) -> None:
    """Entries that lie in order or are gathered, and every column for itself."""
    lengths = LENGTHS[shape]
    total = sum(lengths)
    given_entries = entries(60 if gathered else total, columns)
    gather = places(60, total) if gathered else None
    flat = given_entries if gather is None else given_entries[gather]
    expected = np.array([flat[group].sum(axis=0) for group in groups(lengths)])
    found = segments(lengths, gather).sum(given_entries)
    assert found.shape == (len(lengths), *given_entries.shape[1:])
    np.testing.assert_allclose(found, expected.reshape(found.shape), rtol=1e-13)


@pytest.mark.parametrize("gathered", [False, True])
@pytest.mark.parametrize("shape", LENGTHS)
def test_a_maximum_is_the_largest_of_each_group(shape: str, gathered: bool) -> None:
    lengths = LENGTHS[shape]
    given_entries = entries(60 if gathered else sum(lengths), None)
    gather = places(60, sum(lengths)) if gathered else None
    flat = given_entries if gather is None else given_entries[gather]
    assert segments(lengths, gather).max(given_entries).tolist() == [flat[group].max() for group in groups(lengths)]


@settings(max_examples=60)
@given(st.lists(st.integers(1, 40), max_size=12), st.integers(1, 5), st.integers(0, 1000))
def test_a_column_is_as_it_would_be_alone(lengths: list[int], columns: int, seed: int) -> None:
    """Several sets of evidence at once give what each gives by itself."""
    table = entries(sum(lengths), columns, seed)
    found = segments(lengths)
    together = found.sum(table)
    for column in range(columns):
        np.testing.assert_allclose(together[:, column], found.sum(table[:, column].copy()), rtol=1e-13)


def test_the_entries_are_left_as_they_are() -> None:
    values = entries(30, 3)
    before = values.copy()
    segments([10, 15, 5]).sum(values)
    segments([30]).sum(values)
    assert (values == before).all()


def test_groups_start_where_the_one_before_ends() -> None:
    found = segments([3, 1, 4])
    assert found.starts.tolist() == [0, 3, 4]
    assert found.lengths.tolist() == [3, 1, 4]
