"""A PostgreSQL server of Debian's package in a temporary folder, for the time of a test."""

from __future__ import annotations

import os
import pwd
import shutil
import socket
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

BINARIES = Path("/usr/lib/postgresql/15/bin")


def there_is_postgres() -> bool:
    """Whether Debian's package of version 15 is installed."""
    return (BINARIES / "pg_ctl").is_file()


@contextmanager
def postgres_url() -> Iterator[str]:
    """URL of an empty database on a server that is started for it."""
    user = _other_user()
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    folder = Path(tempfile.mkdtemp(prefix="bedwright-postgres-"))
    cluster = folder / "cluster"
    options = f"-p {port} -c listen_addresses=127.0.0.1 -c unix_socket_directories={folder} -c fsync=off"

    def run(*command: str) -> None:
        subprocess.run(command, check=True, user=user, cwd=folder, stdout=subprocess.DEVNULL)

    try:
        if user is not None:
            shutil.chown(folder, user)
        run(str(BINARIES / "initdb"), "-D", str(cluster), "-U", "bedwright", "-A", "trust", "-E", "UTF8")
        run(
            str(BINARIES / "pg_ctl"),
            "-D",
            str(cluster),
            "-o",
            options,
            "-l",
            str(folder / "log"),
            "-w",
            "start",
        )
        try:
            run(str(BINARIES / "createdb"), "-h", "127.0.0.1", "-p", str(port), "-U", "bedwright", "garden")
            yield f"postgresql://bedwright@127.0.0.1:{port}/garden"
        finally:
            run(str(BINARIES / "pg_ctl"), "-D", str(cluster), "-m", "immediate", "-w", "stop")
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def _other_user() -> str | None:
    """Whom to run it as: the server refuses to run as root."""
    if os.geteuid() != 0:
        return None
    known = {each.pw_name for each in pwd.getpwall()}
    return next(name for name in ("postgres", "nobody") if name in known)
