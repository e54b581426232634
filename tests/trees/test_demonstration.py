"""The promises of the demonstration library: its size, its logic, its examples, its cautions."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterator
from itertools import combinations
from pathlib import Path

import pytest

from faultree.belief.evidence import Reply
from faultree.library import model
from faultree.library.writer import write
from faultree.strategy.case import Case
from tests.oracles.brute import World
from tests.trees.demonstration import NOTHING, TREES, library, seen

LIBRARY = library()
SYMPTOMS = list(LIBRARY.symptoms.values())
CHECKS = list(LIBRARY.checks.values())
NEEDS_TWO = {"flaps/split-not-stopped", "spoilers/rise-on-approach"}
SINGLE = [frozenset({name}) for name in LIBRARY.causes]


def _gates(operand: model.Operand | None) -> Iterator[str]:
    if isinstance(operand, model.Gate):
        yield operand.kind
        for inner in operand.operands:
            yield from _gates(inner)


def _operands() -> Iterator[model.Operand | None]:
    for signal in LIBRARY.signals.values():
        yield signal.follows
        yield from (*signal.lost_if, *signal.forced_if)
    for event in LIBRARY.events.values():
        yield event.gate
    for check in CHECKS:
        yield from (answer.when for answer in check.answers)


# ---- size and variety


@pytest.mark.parametrize(
    ("what", "least"),
    [("systems", 6), ("causes", 100), ("items", 60), ("symptoms", 15), ("checks", 80), ("situations", 8)],
)
def test_it_is_large_enough_to_be_a_real_test(what: str, least: int) -> None:
    """The library is the real test of the format: it has at least the size that was promised."""
    assert len(getattr(LIBRARY, what)) >= least


def test_every_construct_of_the_format_is_used() -> None:
    """An author finds an example of each gate, likelihood and kind of check here."""
    assert {kind for operand in _operands() for kind in _gates(operand)} == {
        "all", "any", "not", "none", "at_least", "one_of",
    }  # fmt: skip
    likelihoods = [cause.likelihood for cause in LIBRARY.causes.values()]
    assert any(one.probability for one in likelihoods)
    assert any(one.rate and one.hours > 1.0 for one in likelihoods)
    assert len({one.band for one in likelihoods if one.band}) >= 4
    assert {check.by for check in CHECKS} == {"crew", "line", "shop"}
    assert any(check.false_yes and check.false_no for check in CHECKS)
    assert any(len(check.answers) > 3 and check.error for check in CHECKS)
    assert any(signal.undeveloped for signal in LIBRARY.signals.values())
    assert {caution.level for caution in LIBRARY.cautions.values()} == {"warning", "caution", "note"}


def test_hidden_faults_are_hidden_for_long() -> None:
    """Causes that nobody notices until they are needed carry a rate and many hours."""
    hidden = [one for one in LIBRARY.causes.values() if one.likelihood.rate and one.likelihood.hours >= 1000]
    assert len(hidden) >= 12


def test_likelihoods_span_orders_of_magnitude() -> None:
    """A ranking teaches nothing where all causes are alike."""
    chances = [cause.probability for cause in LIBRARY.causes.values()]
    assert max(chances) / min(chances) >= 100
    assert max(chances) < 0.05


def test_access_is_shared() -> None:
    """Work that several checks need is written once and paid once."""
    users = defaultdict(list)
    for check in CHECKS:
        for access in check.access:
            users[access].append(check.id)
    assert sum(len(names) >= 3 for names in users.values()) >= 6


def test_files_refer_to_each_other() -> None:
    """Spoilers use air/ground sensing, surfaces use the hydraulics, all use the buses."""
    used: dict[str, set[str]] = defaultdict(set)
    for signal in LIBRARY.signals.values():
        operands = (*signal.lost_if, *signal.forced_if, *((signal.follows,) if signal.follows else ()))
        used[signal.system] |= {ref.id.partition("/")[0] for operand in operands for ref in model.refs(operand)}
    assert used["spoilers"] >= {"air-ground", "hydraulics", "electrical", "aircraft"}
    assert used["flaps"] >= {"hydraulics", "electrical"}
    assert used["leading-edge"] >= {"flaps", "hydraulics", "electrical"}


def test_every_file_says_that_it_is_invented() -> None:
    """Nobody may take the aircraft, its parts or its checks for real ones."""
    for system in LIBRARY.systems.values():
        assert "Velloran V70" in system.summary
        assert "invented for training" in system.summary
        assert "approved data governs" in system.summary
        assert "approved manual governs" in system.authority
        assert re.fullmatch(r"\d\d-\d\d", system.chapter)


def test_everything_that_is_touched_has_a_manual_reference() -> None:
    """Whoever replaces, checks or tests something is sent to the approved manual."""
    entries: list[model.Item | model.Check | model.Symptom] = [*LIBRARY.items.values(), *CHECKS, *SYMPTOMS]
    for entry in entries:
        assert entry.manual.startswith("VAM "), entry.id


# ---- logic


@pytest.mark.parametrize("symptom", SYMPTOMS, ids=lambda one: one.id)
def test_nothing_wrong_shows_no_symptom(symptom: model.Symptom) -> None:
    """With every part good, no report can be true."""
    assert not seen(symptom)


@pytest.mark.parametrize("symptom", SYMPTOMS, ids=lambda one: one.id)
def test_every_symptom_has_a_cause_and_those_of_two_faults_need_both(symptom: model.Symptom) -> None:
    """Each report comes from one fault alone, save the few that need two faults together."""
    alone = [faults for faults in SINGLE if seen(symptom, faults)]
    assert bool(alone) == (symptom.id not in NEEDS_TWO)


@pytest.mark.parametrize("name", sorted(NEEDS_TWO))
def test_two_faults_together_are_enough_where_one_is_not(name: str) -> None:
    """A report that needs two faults comes from a pair of causes in its own system."""
    own = [cause for cause in LIBRARY.causes.values() if cause.system == name.partition("/")[0]]
    pairs = combinations([one.id for one in own], 2)
    assert any(seen(LIBRARY.symptoms[name], pair) for pair in pairs)


def test_exactly_one_answer_holds_whatever_is_wrong() -> None:
    """With nothing wrong and with each cause alone, every check has exactly one right answer."""
    groups = defaultdict(list)
    for check in CHECKS:
        groups[check.situation].append(check)
    for faults in (NOTHING, *SINGLE):
        for situation, checks in groups.items():
            world = World(LIBRARY, faults, situation)
            for check in checks:
                right = [answer.id for answer in check.answers if world.holds(answer.when)]
                assert len(right) == 1, f"{check.id} with {set(faults)}: {right}"


def _signature(faults: frozenset[str]) -> tuple[object, ...]:
    worlds: dict[str | None, World] = {}

    def world(situation: str | None) -> World:
        return worlds.setdefault(situation, World(LIBRARY, faults, situation))

    reports = [all(world(one.situation).node(name) == value for name, value in one.sees) for one in SYMPTOMS]
    answers = [[world(one.situation).holds(answer.when) for answer in one.answers].index(True) for one in CHECKS]
    return (*reports, *answers)


def test_checks_tell_every_cause_from_every_other() -> None:
    """No two causes look the same to all reports and checks: an engineer can tell each from each."""
    same = defaultdict(list)
    for faults in SINGLE:
        same[_signature(faults)].append(set(faults))
    assert [group for group in same.values() if len(group) > 1] == []


@pytest.mark.parametrize("name", LIBRARY.symptoms)
def test_every_report_is_reasoned_about_exactly(name: str) -> None:
    """The logic is narrow enough for every cause and every check of a report to be computed without error."""
    assert Case.open(LIBRARY, [name]).bound == 0.0


# ---- examples


def test_every_symptom_has_examples() -> None:
    """Each report is shown diagnosed at least once, and most of them more than once."""
    counts = {name: sum(name in example.symptoms for example in LIBRARY.examples) for name in LIBRARY.symptoms}
    assert min(counts.values()) >= 2, counts


@pytest.mark.parametrize("example", LIBRARY.examples, ids=lambda one: f"{one.symptoms[0]}: {one.title}")
def test_every_example_holds(example: model.Example) -> None:
    """The ranking after the answers is what the author says."""
    case = Case(LIBRARY, example.symptoms, tuple(Reply(check, answer) for check, answer in example.answers))
    ranking = case.ranking()
    left = {suspect.cause: suspect.probability for suspect in ranking}
    assert example.expect.first is not None
    assert left[example.expect.first] >= max(example.expect.at_least, ranking[0].probability - 1e-12)
    assert all(left[name] == 0.0 for name in example.expect.cleared)


# ---- cautions

RECALLED = {"taxi", "cruise", "approach", "approach-travelling", "landing-roll", "speed-brakes-raised"}


def _cautions(check: model.Check) -> set[str]:
    """The check's own cautions and those of the access work it needs; a situation's come on top."""
    shared = [LIBRARY.access[name].cautions for name in check.access]
    return {name.partition("/")[2] for name in (*check.cautions, *(one for some in shared for one in some))}


def _made_at_the_aircraft(check: model.Check) -> bool:
    """Not a question to the crew about a flight that is over."""
    situation = (check.situation or "").partition("/")[2]
    return not (check.by == "crew" and situation in RECALLED)


def _on(check: model.Check, *conditions: str) -> bool:
    settings = LIBRARY.settings(check.situation)
    return _made_at_the_aircraft(check) and any(settings[f"aircraft/{name}"] for name in conditions)


@pytest.mark.parametrize("check", CHECKS, ids=lambda one: one.id)
def test_a_check_that_can_hurt_says_so(check: model.Check) -> None:
    """Moving surfaces, pressure, power, jacks, wheels and running engines are warned of before the check."""
    cautions = _cautions(check)
    if _on(check, "electric-pumps-on"):
        assert {"surfaces-move", "pressure-on"} <= cautions or {"surfaces-move", "power-on"} <= cautions
    if _on(check, "alternate-down", "alternate-up", "lever-raised", "lever-armed", "flaps-selected"):
        assert cautions & {"surfaces-move", "controls-tagged", "power-off"}
    if _on(check, "engine-1-running", "engine-2-running"):
        assert "engine-run" in cautions
    if _on(check, "left-wheel-spun", "right-wheel-spun"):
        assert {"turning-wheel", "jacking"} <= cautions
    if not LIBRARY.settings(check.situation)["aircraft/on-wheels"] and _made_at_the_aircraft(check):
        assert "aircraft/jacks" in check.access
        assert "jacking" in cautions
    if "insulated probes" in check.tools:
        assert "live-terminals" in cautions


def test_items_of_hydraulics_and_wiring_carry_their_cautions() -> None:
    """A line is opened without pressure, a connector without power, a wing panel with its locks in."""
    for item in LIBRARY.items.values():
        cautions = {name.partition("/")[2] for name in item.cautions}
        if item.system == "hydraulics" or item.title.endswith(("valve", "filter", "actuator")):
            assert "pressure-off" in cautions, item.id
        if item.title.endswith(("sensor", "unit", "relay", "breaker", "switch", "transmitter", "motor")):
            assert cautions & {"power-off", "pressure-off"}, item.id
        if any("spar" in name for name in item.access):
            assert "surface-locks" in cautions, item.id


# ---- words


def test_titles_read_inside_a_sentence() -> None:
    """A title begins small or with a name, and no two causes, items or checks share one."""
    for table in (LIBRARY.causes, LIBRARY.items, LIBRARY.signals, LIBRARY.checks, LIBRARY.symptoms):
        entries: list[model.Entry] = list(table.values())
        assert len({entry.title for entry in entries}) == len(entries)
        for entry in entries:
            assert re.match(r"[a-z0-9]|[A-Z]{2,}", entry.title), entry.title
            assert not entry.title.endswith("."), entry.title
    assert all(check.ask.endswith("?") for check in CHECKS)


def test_crews_words_are_given_for_every_symptom() -> None:
    """Crews report in their own words, so each symptom lists some."""
    assert all(len(symptom.words) >= 2 for symptom in SYMPTOMS)


@pytest.mark.parametrize("path", sorted(TREES.glob("*.yaml")), ids=lambda path: path.name)
def test_every_file_is_laid_out_as_tidy_does(path: Path) -> None:
    """The library that authors copy from is in the layout that `faultree tidy` gives."""
    text = path.read_text(encoding="utf-8")
    assert write(text, path.name).text == text


def test_every_answer_says_what_was_seen() -> None:
    """Behind its title in a record, without its question, no answer may be read as the opposite."""
    short = [
        f"{check.id}: {answer.text}"
        for check in library().checks.values()
        for answer in check.answers
        if check.asked(answer.id) != check.title
    ]
    assert short == []


def test_no_electric_pump_is_switched_on_without_a_look_at_the_fluid() -> None:
    """Where the fluid may be gone, a pump runs dry and pressure feeds the leak; of its own file every check warns."""
    pumping = {"aircraft/parked-pressure", "aircraft/parked-alternate"}
    checks = [one for one in library().checks.values() if one.system == "hydraulics" and one.situation in pumping]
    assert len(checks) == 7
    assert [one.id for one in checks if "aircraft/pump-may-run-dry" not in one.cautions] == []


def test_a_breaker_that_tripped_leaves_the_question_why_behind() -> None:
    """The warning of its replacement is carried into the hand-over."""
    caution = library().cautions["aircraft/breaker-tripped"]
    assert caution.afterwards.startswith("find out why the breaker tripped")
    items = [one for one in library().items.values() if one.title.endswith("breaker")]
    assert items
    assert all(caution.id in one.cautions for one in items)
