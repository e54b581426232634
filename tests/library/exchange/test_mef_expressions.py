"""Expressions: their values, and what is not computed."""

from __future__ import annotations

import math

import pytest

from faultree.library.exchange.mef_expressions import general_life, weibull
from faultree.library.exchange.open_psa import Options
from faultree.library.model import Cause
from tests.library.exchange.models import gate, library, problems, wrapped

TOP = gate('<basic-event name="e"/>')
HALF = '<float value="0.5"/>'
LAMBDA = '<define-parameter name="lambda"><float value="1.23e-4"/></define-parameter>'


def _data(expression: str, more: str = "") -> bytes:
    return wrapped(TOP, f'<define-basic-event name="e">{expression}</define-basic-event>{more}')


def _cause(expression: str, more: str = "", hours: float | None = None) -> Cause:
    return library(_data(expression, more), Options(hours)).causes["f/e"]


@pytest.mark.parametrize(
    ("expression", "value"),
    [
        ('<float value=" 1.2e-3 "/>', 1.2e-3),
        ("<neg><float value='-0.25'/></neg>", 0.25),
        (f"<add>{HALF}<float value='0.25'/></add>", 0.75),
        (f"<sub>{HALF}<float value='0.125'/><float value='0.125'/></sub>", 0.25),
        (f"<mul>{HALF}{HALF}{HALF}</mul>", 0.125),
        (f"<div>{HALF}<int value='2'/></div>", 0.25),
        (f"<div>{HALF}<pi/></div>", 0.5 / math.pi),
        ("<abs><float value='-0.1'/></abs>", 0.1),
        ("<exp><float value='-2'/></exp>", math.exp(-2)),
        ("<log><float value='2'/></log>", math.log(2)),
        ("<log10><float value='2'/></log10>", math.log10(2)),
        (f"<pow>{HALF}<int value='3'/></pow>", 0.125),
        ("<sqrt><float value='0.25'/></sqrt>", 0.5),
        (f"<min>{HALF}<bool value='true'/></min>", 0.5),
        (f"<max>{HALF}<bool value='false'/></max>", 0.5),
        (f"<mean>{HALF}<float value='0.25'/></mean>", 0.375),
    ],
)
def test_numbers_and_arithmetic(expression: str, value: float) -> None:
    found = _cause(expression)
    assert found.probability == pytest.approx(value, rel=1e-15)
    assert ("x-expression" in found.extra) == (not expression.startswith("<float"))


def test_the_negative_exponential_of_the_specification() -> None:
    """Open-PSA MEF, stochastic layer: 1 - exp(-lambda t), written out and as `exponential` (example read)."""
    power = "<exp><mul><neg><parameter name='lambda'/></neg><system-mission-time/></mul></exp>"
    written = f"<sub><float value='1.0'/>{power}</sub>"
    law = "<exponential><parameter name='lambda'/><system-mission-time/></exponential>"
    one, other = _cause(written, LAMBDA, 24.0), _cause(law, LAMBDA, 24.0)
    assert one.probability == pytest.approx(other.probability, rel=1e-12)
    assert other.probability == -math.expm1(-1.23e-4 * 24.0)
    assert (other.likelihood.rate, other.likelihood.hours) == (1.23e-4, 24.0)
    assert other.extra == {"x-expression": "exponential(lambda, system-mission-time)"}


def test_a_rate_over_hours_stays_one() -> None:
    found = _cause("<exponential><float value='1e-5'/><float value='600'/></exponential>")
    assert (found.likelihood.rate, found.likelihood.hours) == (1e-5, 600.0)
    assert found.extra == {}


def test_general_life_and_weibull_against_the_formulae_of_the_specification() -> None:
    """Open-PSA MEF, stochastic layer (formulae read)."""
    gamma, rate, repair, when = 0.01, 2e-3, 5e-2, 30.0
    total = rate + repair
    expected = rate / total - (rate - gamma * total) / total * math.exp(-total * when)
    assert general_life(gamma, rate, repair, when) == pytest.approx(expected, rel=1e-12)
    assert weibull(100.0, 2.0, 5.0, 30.0) == pytest.approx(1 - math.exp(-(((30.0 - 5.0) / 100.0) ** 2)), rel=1e-12)
    assert weibull(100.0, 2.0, 30.0, 5.0) == 0.0  # nothing fails before the shift
    values = "".join(f"<float value='{value}'/>" for value in (gamma, rate, repair, when))
    assert _cause(f"<GLM>{values}</GLM>").probability == pytest.approx(expected, rel=1e-12)
    assert general_life(0.25, 0.0, 0.0, 7.0) == 0.25


def test_parameters_may_use_each_other_in_any_order() -> None:
    more = (
        "<define-parameter name='a' unit='hours-1'><mul><parameter name='b'/><int value='2'/></mul></define-parameter>"
        "<define-parameter name='b'><label>Base</label><float value='0.2'/></define-parameter>"
    )
    found = library(_data("<parameter name='a'/>", more))
    assert found.causes["f/e"].probability == 0.4
    kept = found.systems["f"].extra["x-open-psa"]
    assert isinstance(kept, dict)
    assert kept["parameters"] == {
        "a": {"expression": "mul(b, 2)", "value": 0.4, "unit": "hours-1"},
        "b": {"expression": "0.2", "value": 0.2, "label": "Base"},
    }


REFUSED = [
    ("<float value='x'/>", "the value of 'float' is 'x'; write a number such as 1.0e-3"),
    ("<float value='1e999'/>", "the value of 'float' is '1e999'; write a number"),
    ("<float value='NaN'/>", "the value of 'float' is 'NaN'; write a number"),
    ("<int value='1.5'/>", "the value of 'int' is '1.5'; write a whole number"),
    ("<bool value='maybe'/>", "the value of 'bool' is 'maybe'; write true or false"),
    ("<lognormal-deviate/>", "the expression 'lognormal-deviate' is not computed here; write its value as a float"),
    ("<exponentia/>", "the expression 'exponentia' is not computed here; did you mean 'exponential'?"),
    ("<system-mission-time/>", "the mission time is not known; give it in hours (--hours)"),
    ("<parameter name='q'/>", "the parameter 'q' is declared nowhere; add its declaration"),
    ("<parameter name='e'/>", "'e' is the basic event of line 2, not a parameter"),
    (f"<div>{HALF}<float value='0'/></div>", "div(0.5, 0) has no value; correct its operands"),
    ("<log><float value='0'/></log>", "log(0) has no value"),
    ("<pow><float value='-1'/><float value='0.5'/></pow>", "pow(-1, 0.5) has no value"),
    ("<exp><float value='1e9'/></exp>", "exp(1e9) has no value"),
    (f"<exponential>{HALF}</exponential>", "'exponential' has 1 operands; it takes 2"),
    ("<add/>", "'add' has 0 operands; it takes 1 or more"),
    ("<float value='0.1'><pi/></float>", "'pi' in 'float'; put it beside, within an operation"),
    ("<float value='0.1' unit='x'/>", "unknown attribute 'unit' of 'float'"),
    (f"<mul>text{HALF}</mul>", "the text 'text' in 'mul' says nothing"),
    (
        "<float value='0'/>",
        "the probability of the basic event 'e' is 0; it must be above 0 and below 1; what is always false",
    ),
    (
        "<float value='1'/>",
        "the probability of the basic event 'e' is 1; it must be above 0 and below 1; what is always true",
    ),
    ("<float value='2'/>", "the probability of the basic event 'e' is 2; it must be above 0 and below 1"),
    ("<mul><float value='2'/></mul>", "the probability of the basic event 'e' is mul(2) = 2; it must be above 0"),
]


@pytest.mark.parametrize(("expression", "message"), REFUSED, ids=[message[:40] for _, message in REFUSED])
def test_what_gives_no_probability_is_refused(expression: str, message: str) -> None:
    found = problems(_data(expression))
    assert any(one.partition(": ")[2].startswith(message) for one in found)
    assert all(one.startswith("2:") for one in found)


def test_parameters_that_depend_on_themselves_are_refused_with_the_way() -> None:
    more = (
        "<define-parameter name='a'><parameter name='b'/></define-parameter>"
        "<define-parameter name='b'><neg><parameter name='a'/></neg></define-parameter>"
    )
    assert [one.partition(": ")[2] for one in problems(_data("<parameter name='a'/>", more))] == [
        "the parameter depends on itself: a -> b -> a; break the circle"
    ]


def test_a_chain_of_many_parameters_is_read() -> None:
    """However long: nothing recurses along it."""
    chain = "".join(
        f"<define-parameter name='p{n}'><parameter name='p{n + 1}'/></define-parameter>" for n in range(1200)
    )
    more = chain + "<define-parameter name='p1200'><float value='0.5'/></define-parameter>"
    assert _cause("<parameter name='p0'/>", more).probability == 0.5
