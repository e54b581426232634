"""`faultree journal backup`, `export` and `import`: the journal as files."""

from __future__ import annotations

from pathlib import Path

import click

from faultree.base.errors import JournalError
from faultree.cli import complete
from faultree.cli.out import force_option, free, save
from faultree.cli.record import journal_option, new_journal, open_journal

TABLES = ("cases", "squawks", "entries", "findings", "runs")
"""The tables that can be had as CSV, as `transfer.CSV_TABLES` has them."""

PAIRS = 12
"""So many cases that got another number are named."""


@click.command("backup")
@click.argument("file", type=click.Path(path_type=Path))
@force_option
@journal_option
def backup_command(file: Path, force: bool, journal: str | None) -> None:
    """Copy the journal to a file, also while others are writing."""
    from faultree.journal.backup import backup

    free(file, force=force)
    backup(open_journal(journal), file, over=force)
    click.echo(f"Copied to {file}.")


@click.command("export")
@click.option("--csv", "table", type=click.Choice(TABLES), help="One table as CSV.")
@click.option("-o", "--output", type=click.Path(path_type=Path), metavar="FILE", help="Default: standard output.")
@force_option
@journal_option
def export_command(table: str | None, output: Path | None, force: bool, journal: str | None) -> None:
    """Write the whole journal as JSON Lines, which 'journal import' reads, or a table as CSV."""
    from faultree.journal import transfer

    free(output, force=force)
    store = open_journal(journal)
    text = transfer.table_csv(store, table) if table else "".join(f"{line}\n" for line in transfer.lines(store))
    if output is None:
        # As bytes: whatever the terminal's encoding, what is piped on is UTF-8, which 'journal import' reads.
        click.echo(text.encode("utf-8"), nl=False)
        return
    save(output, text, force=force)
    click.echo(f"Written to {output}.", err=True)


@click.command("import")
@click.argument("file", type=click.Path(path_type=Path), shell_complete=complete.file)
@click.option("--yes", is_flag=True, help="Also where invented cases and real ones would come together.")
@journal_option
def import_command(file: Path, yes: bool, journal: str | None) -> None:
    """Read a journal that 'journal export' wrote; what is known already is not read in twice."""
    from faultree.journal import transfer

    try:
        # Only at ends of lines: words may hold signs that Python takes for such, as U+2028.
        texts = file.read_text(encoding="utf-8-sig").split("\n")
    except UnicodeDecodeError as error:
        raise JournalError(f"{file} is no UTF-8 text, so it is no journal") from error
    found = transfer.take_in(new_journal(journal), texts, str(file), mixed=yes)
    click.echo(f"{found.new} new, {found.longer} with more entries, {found.known} known already.")
    if found.renumbered:
        pairs = ", ".join(f"{before} is {here}" for before, here in found.renumbered[:PAIRS])
        more = f" and {len(found.renumbered) - PAIRS} more" if len(found.renumbered) > PAIRS else ""
        click.echo(f"Some cases have another number here than on their printed sheets: {pairs}{more}.")
