"""What another meaning of a squawk, or none any more, makes of a walk that has begun."""

from __future__ import annotations

from typing import TYPE_CHECKING

from faultree.base.errors import CaseError

if TYPE_CHECKING:
    from collections.abc import Mapping

    from faultree.journal.records import Record
    from faultree.library.model import Library


def walk_event(library: Library, record: Record) -> Mapping[str, object] | None:
    """The entry that puts the walk of a case on its reports as they are now; None where it has none or rests on them.

    So the ranking of a sheet never rests on a report that was taken back. Answers stay, as far as they fit.
    """
    from faultree.journal.stage import last_walk, walked
    from faultree.reports.fit_now import symptoms_now
    from faultree.walk import saved
    from faultree.walk.reported import together
    from faultree.walk.restated import restated

    kept = last_walk(record)
    if kept is None:
        return None
    before = [str(one) for one in kept.get("symptoms", ())]
    try:
        symptoms = list(together(library, symptoms_now(library, record)))
    except CaseError:
        return {"reports": [], "walk": None}
    gone = [one for one in before if one not in library.symptoms]
    if [*symptoms, *gone] == before and walked(record) is not None:
        return None
    walk = restated(library, kept, [*symptoms, *gone])
    return {"reports": symptoms, "walk": saved.pack(walk)}
