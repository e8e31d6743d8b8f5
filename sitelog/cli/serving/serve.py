"""`sitelog serve`: the screens in a browser, on this machine or with a code on another."""

import argparse
import os
import shlex
import socket
import sys
from pathlib import Path

from sitelog.refusal import DONE, Refusal

NOT_HERE = 'That needs the extra `serve`. Run: pip install "sitelog[serve]"'
EVERY_ADDRESS = ("0.0.0.0", "::")  # listened on at all of them, and no place to go to
PLAIN = "Whoever else is on that network can read along: use one of your own."


def serve(options: argparse.Namespace) -> int:
    """Serve until Ctrl-C. Refusal: no such file or folder, no such port, or what serves isn't installed."""
    try:
        from sitelog.cli.serving.server import Server
    except ImportError:
        raise Refusal(NOT_HERE) from None
    from sitelog.cli.serving.door import Door

    command = _command(Path(options.job))
    port = _port(options.host, options.port)
    door = Door(options.host, lambda code: print(f"Code for the next browser: {code}", flush=True))
    print(f"Open http://{options.host}:{port} in a browser. Ctrl-C ends it.", flush=True)
    if options.host in EVERY_ADDRESS:
        print(f"On another machine type this machine's own address for {options.host}.", flush=True)
    if door.wants_code:
        print(PLAIN, flush=True)
    os.environ.pop("SITELOG_BY", None)  # whoever starts it is nobody in a browser
    Server(command, options.host, port, door).serve()
    return DONE


def _command(job: Path) -> str:
    """What is run for each browser: the screens over a job, or over the jobs of a folder."""
    words = [sys.executable, "-m", "sitelog"]
    if job.is_dir():
        os.chdir(job)
        return shlex.join(words)
    from sitelog.job.storage.file import JobFile

    JobFile.open(job, read_only=True).close()
    return shlex.join([*words, "open", str(job.resolve())])


def _port(host: str, text: str) -> int:
    """The port, free. Refusal where it isn't a port, or another program has it, or this machine isn't that host."""
    if not text.isascii() or not text.isdecimal() or not 1 <= int(text) <= 65535:
        raise Refusal(f"--port is {text[:20]!r}: type a number from 1024 to 65535")
    try:
        with socket.create_server((host, int(text))):
            return int(text)
    except OSError as error:
        raise Refusal(f"Can't listen on {host} port {text}: {error.strerror or error}. Give another --port") from None
