"""`faultree journal forget`: remove a person from the record."""

from __future__ import annotations

import click

from faultree.cli.record import journal_option, open_journal


@click.command("forget")
@click.argument("name", required=False)
@click.option("--yes", is_flag=True, help="Do not ask.")
@journal_option
def forget_command(name: str | None, yes: bool, journal: str | None) -> None:
    """Remove a person's name or initials from every field made for them; alone: who is named.

    The crew's words and notes are kept as typed: look through them with 'journal export'.
    """
    from faultree.journal.people import forget, people

    store = open_journal(journal)
    if name is None:
        click.echo("\n".join(people(store)) or "Nobody is named.")
        return
    if not yes:
        click.confirm(f"Remove '{name}' from the journal? This cannot be undone.", abort=True)
    count = forget(store, name)
    click.echo(f"Removed from {count} field{'' if count == 1 else 's'}." if count else f"Nobody is named '{name}'.")
