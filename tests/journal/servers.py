"""A PostgreSQL server of the tests' own, on this machine and a free port, gone when they end."""

from __future__ import annotations

import os
import pwd
import shutil
import socket
import subprocess
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

DEBIAN = Path("/usr/lib/postgresql")


def programs() -> Path | None:
    """The folder of the server's programs; None where it is not installed."""
    found = sorted(DEBIAN.glob("*/bin/postgres"))
    if found:
        return found[-1].parent
    named = shutil.which("postgres")
    return Path(named).parent if named else None


@contextmanager
def server(folder: Path, binaries: Path) -> Iterator[str]:
    """A running server with its files below `folder`; its address with the database `postgres`."""
    folder.mkdir(mode=0o700)
    other = _other_person(folder)
    data = folder / "data"
    subprocess.run(
        [binaries / "initdb", "-D", data, "-U", "tester", "--auth=trust", "--no-sync", "-E", "UTF8"],
        check=True,
        capture_output=True,
        cwd=folder,
        **other,
    )
    port = _free_port()
    settings = ["-c", "listen_addresses=127.0.0.1", "-c", "unix_socket_directories=", "-c", "fsync=off"]
    command = [str(binaries / "postgres"), "-D", str(data), "-p", str(port), *settings]
    with (folder / "log").open("wb") as log:
        process: subprocess.Popen[bytes] = subprocess.Popen(command, stdout=log, stderr=log, cwd=folder, **other)
    try:
        _wait(port, process)
        yield f"postgresql://tester@127.0.0.1:{port}"
    finally:
        process.terminate()
        process.wait(timeout=20)


def _other_person(folder: Path) -> dict[str, Any]:
    """How to start a server that refuses to run as root: as a person with fewer rights, who owns the folder."""
    if os.name != "posix" or os.geteuid() != 0:
        return {}
    someone = pwd.getpwnam("nobody")
    os.chown(folder, someone.pw_uid, someone.pw_gid)
    for parent in folder.parents:  # the way to the folder may be passed, not read
        if parent.stat().st_uid == 0 and not parent.stat().st_mode & 0o001:
            parent.chmod(parent.stat().st_mode | 0o001)
    return {"user": someone.pw_uid, "group": someone.pw_gid, "extra_groups": []}


def _free_port() -> int:
    with socket.socket() as one:
        one.bind(("127.0.0.1", 0))
        return int(one.getsockname()[1])


def _wait(port: int, process: subprocess.Popen[bytes]) -> None:
    for _ in range(200):
        if process.poll() is not None:
            raise RuntimeError("the server ended at once; see its log")
        try:
            socket.create_connection(("127.0.0.1", port), timeout=1).close()
        except OSError:
            time.sleep(0.05)
        else:
            return
    raise RuntimeError("the server did not answer within 10 s")
