"""The answer key of an exercise as a page to print: HTML with the drawing in it, or Markdown beside the drawing."""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Iterator, Sequence
from datetime import datetime
from html import escape
from textwrap import wrap

from faultree.base.words import minutes
from faultree.diagrams.draw import draw, files
from faultree.diagrams.drawing import Drawing, Request
from faultree.diagrams.evidence import evidence_of
from faultree.practice.key import AnswerKey, KeyStep
from faultree.reports.pages import in_md

FOR_INSTRUCTORS = "Answer key for the instructor: it says what is hidden. Keep it from the trainees."

STYLE = """
body { font: 11pt/1.4 Arial, 'Liberation Sans', Helvetica, sans-serif; color: #17212b; background: #fff;
  max-width: 46rem; margin: 2rem auto; padding: 0 1rem; }
h1 { font-size: 1.4rem; margin: 0 0 .3rem; } h2 { font-size: 1.1rem; margin: 1.6rem 0 .4rem; }
dl { display: grid; grid-template-columns: 6.5rem 1fr; gap: .2rem .8rem; } dt { color: #55606b; } dd { margin: 0; }
ol { padding-left: 1.4rem; } li { margin-bottom: .7rem; } li p { margin: .15rem 0; }
.care { border-left: .3rem solid #9a4a12; background: #fbeecb; padding: .2rem .6rem; }
.notice { border: 1px solid #3c4854; padding: .5rem .8rem; }
figure { margin: 1rem 0; } img { max-width: 100%; border: 1px solid #a9b1b8; }
@media print { body { margin: 0; max-width: none; } li, figure { break-inside: avoid; } figure { break-before: page; } }
"""


def drawing_pages(key: AnswerKey, version: str = "", made: datetime | None = None) -> tuple[str, ...]:
    """The fault tree with the answers of the best strategy, each A4 sheet as SVG; raises DrawingError."""
    return tuple(page.decode() for page in files(_drawing(key, "a4", version, made), "svg"))


def drawing_text(key: AnswerKey, width: int = 80) -> str:
    """The same drawing as an outline in plain text."""
    return files(_drawing(key), "txt", width=width)[0].decode()


def _drawing(key: AnswerKey, paper: str | None = None, version: str = "", made: datetime | None = None) -> Drawing:
    case = key.case
    return draw(Request(case.library, case.symptoms[0], evidence_of(case), paper, version=version, made=made), "tree")


def html(key: AnswerKey, pages: Sequence[str]) -> str:
    """The key as one HTML file that needs nothing else; `pages` are the sheets of the drawing."""
    facts = "\n".join(f"<dt>{escape(label)}</dt><dd>{escape(words)}</dd>" for label, words in key.facts)
    figures = "\n".join(_figure(page, number, len(pages)) for number, page in enumerate(pages, 1))
    return f"""<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width">
<title>Answer key: {escape(key.title)}</title>
<style>{STYLE}</style>
</head>
<body>
<main>
<h1>Answer key: {escape(key.title)}</h1>
<p>{FOR_INSTRUCTORS}</p>
<p class="notice">{escape(key.notice)}</p>
<dl>
{facts}
</dl>
<h2>The best strategy</h2>
<ol>
{"".join(map(_item, key.steps))}</ol>
<h2>The fault tree with these answers</h2>
{figures}
</main>
</body>
</html>
"""


def _item(step: KeyStep) -> str:
    cares = "".join(
        f'<p class="care"><strong>{one.level.upper()}</strong> {escape(one.text)}</p>\n' for one in step.cautions
    )
    rest = "".join(f"<p>{escape(one)}</p>\n" for one in step.sentences)
    head = f"<p><strong>{escape(step.words)}</strong> ({minutes(step.minutes)})</p>\n"
    return f"<li>\n{cares}{head}{rest}</li>\n"


def _figure(page: str, number: int, count: int) -> str:
    coded = b64encode(page.encode()).decode()
    words = f"Fault tree, sheet {number} of {count}; the steps above say the same in words"
    return f'<figure><img alt="{words}" src="data:image/svg+xml;base64,{coded}"></figure>'


def markdown(key: AnswerKey, drawings: Sequence[str] = ()) -> str:
    """The key as Markdown; `drawings` are the names of files beside it."""
    return "\n".join(_lines(key, drawings)) + "\n"


def _lines(key: AnswerKey, drawings: Sequence[str]) -> Iterator[str]:
    yield from (
        f"# Answer key: {in_md(key.title)}",
        "",
        FOR_INSTRUCTORS,
        "",
        f"> {in_md(key.notice)}",
        "",
    )
    yield from ("| | |", "|---|---|")
    yield from (f"| {label} | {in_md(words)} |" for label, words in key.facts)
    yield from ("", "## The best strategy", "")
    for number, step in enumerate(key.steps, 1):
        first = True
        for words in _step(step):
            yield f"{number}. {words}" if first else f"   - {words}"
            first = False
    if drawings:
        yield from ("", "## The fault tree with these answers", "")
        yield from (f"![Fault tree, sheet {place}]({name})" for place, name in enumerate(drawings, 1))


def _step(step: KeyStep) -> Iterator[str]:
    """A step of the list: cautions stand before what they are for."""
    cares = " ".join(f"**{one.level.upper()}** {in_md(one.text.rstrip('.'))}." for one in step.cautions)
    yield (f"{cares} Then: " * bool(cares) + f"**{in_md(step.words)}** ({minutes(step.minutes)})")
    yield from map(in_md, step.sentences)


def plain(key: AnswerKey, outline: str, width: int = 80) -> str:
    """The key as plain text, so many columns wide; `outline` is the drawing as text."""
    return "\n".join([*_wrapped(key, width), "", "The fault tree with these answers", outline.rstrip("\n")]) + "\n"


def _wrapped(key: AnswerKey, width: int) -> Iterator[str]:
    yield from (*wrap(f"Answer key: {key.title}", width), "=" * width, *wrap(FOR_INSTRUCTORS, width), "")
    yield from (*wrap(key.notice, width), "")
    for label, words in key.facts:
        yield from wrap(words, width, initial_indent=f"{label:<11}", subsequent_indent=" " * 11)
    yield from ("", "The best strategy")
    for number, step in enumerate(key.steps, 1):
        for care in step.cautions:
            yield from wrap(f"{care.level.upper()} {care.text}", width, initial_indent="    ", subsequent_indent="    ")
        head = f"{step.words} ({minutes(step.minutes)})"
        yield from wrap(head, width, initial_indent=f"{number:>2}  ", subsequent_indent="    ")
        for one in step.sentences:
            yield from wrap(one, width, initial_indent="    ", subsequent_indent="    ")
