"""`faultree completion`: the script by which a shell completes commands, symptoms, checks and answers."""

from __future__ import annotations

import os
from collections.abc import Mapping
from typing import Any

import click
from click.shell_completion import (
    BashComplete,
    CompletionItem,
    add_completion_class,
    get_completion_class,
    shell_complete,
    split_arg_string,
)

from faultree.cli.about import COMPLETE

LINES: Mapping[str, str] = {
    "bash": '~/.bashrc: eval "$(faultree completion bash)"',
    "zsh": '~/.zshrc, behind compinit: eval "$(faultree completion zsh)"',
    "fish": "~/.config/fish/config.fish: faultree completion fish | source",
    "powershell": "$PROFILE: faultree completion powershell | Out-String | Invoke-Expression",
}
"""For each shell, the file that it reads when it starts and the line that belongs there."""


@add_completion_class
class Bash(BashComplete):
    """Bash parts words at "=" (unless it is told otherwise), so it gets only what stands behind it."""

    name = "bash"
    source_template = """\
%(complete_func)s() {
    local IFS=$'\\n' type value
    COMPREPLY=()
    while IFS=',' read -r type value; do
        case $type in
            dir) compopt -o dirnames 2>/dev/null ;;
            file) compopt -o default 2>/dev/null ;;
            plain) COMPREPLY+=("$value") ;;
        esac
    done < <(env COMP_WORDS="${COMP_LINE:0:$COMP_POINT}" COMP_CWORD="$COMP_WORDBREAKS" \
%(complete_var)s=bash_complete "$1" 2>/dev/null)
}
complete -o nosort -F %(complete_func)s %(prog_name)s 2>/dev/null || complete -F %(complete_func)s %(prog_name)s
"""

    def source(self) -> str:
        """The script; it works from bash 3.2 on, without an order of its own before 4.4."""
        return self.source_template % self.source_vars()

    def get_completion_args(self) -> tuple[list[str], str]:
        """The words before the cursor, and the one at it."""
        line = os.environ["COMP_WORDS"]
        words = split_arg_string(line)[1:]
        if line[-1:].isspace() or not words:
            return words, ""
        return words[:-1], words[-1]

    def get_completions(self, args: list[str], incomplete: str) -> list[CompletionItem[str]]:
        """As for any shell, but without what stands before the last "=" that was typed in the value."""
        value = incomplete.partition("=")[2] if incomplete.startswith("--") else incomplete
        found = super().get_completions(args, incomplete)
        if "=" in value and "=" in os.environ.get("COMP_CWORD", ""):
            return [CompletionItem(one.value.rpartition("=")[2], one.type, one.help) for one in found]
        return found


HELP = """Write the script that lets SHELL complete commands, symptoms, checks and answers.

Put one line into the file that your shell reads when it starts:

\b
"""


@click.command("completion", help=HELP + "\n".join(f"{shell:<11} {line}" for shell, line in LINES.items()))
@click.argument("shell", type=click.Choice(list(LINES)))
def command(shell: str) -> None:
    """Write the script of a shell."""
    from faultree.base.errors import FaultreeError

    kind = get_completion_class(shell)
    if kind is None:
        raise FaultreeError(f"the installed click cannot complete in {shell}; version 8.5 and later can")
    script = kind(click.get_current_context().find_root().command, {}, "faultree", COMPLETE).source()
    # Bytes, or Windows would end the lines in a way of its own.
    click.echo(f"# Belongs into {LINES[shell]}\n{script}".encode(), nl=False)


def offer(group: click.Group, extra: dict[str, Any]) -> int:
    """Answer a shell that asks how a line can go on, and give the exit code.

    Whatever happens, nothing is said: it would stand in the middle of the line that is being typed.
    """
    try:
        return shell_complete(group, extra, "faultree", COMPLETE, os.environ[COMPLETE])
    except Exception:  # noqa: BLE001 - nobody is there to read it
        return 1
