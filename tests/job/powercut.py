"""A disk that remembers every step of a save, and what may be left of it when the power goes after any of them.

A step is what a program asks of the system: to make, write, sync, rename, link or remove a file, to sync a folder. What
was written since a file's last sync may be there, or dropped, torn, zeroed, or there in part; a name changed since its
folder's last sync may stand for the file that it stood for at any time since.
"""

import os
import random
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pytest

Fault = Callable[[str], None]
BLOCK = 64  # bytes that a made-up disk writes at once


@dataclass
class Inode:
    synced: bytes = b""
    written: bytes = b""


@dataclass
class Disk:
    """What the disk holds for sure, and what it may hold; `names` has every file a name may stand for, oldest first."""

    inodes: dict[int, Inode] = field(default_factory=dict)
    names: dict[Path, list[int | None]] = field(default_factory=dict)

    def now(self, path: Path) -> int | None:
        return self.names.get(path, [None])[-1]

    def point(self, path: Path, inode: int | None) -> None:
        self.names.setdefault(path, [None]).append(inode)

    def sync_folder(self, folder: Path) -> None:
        for path, held in self.names.items():
            if path.parent == folder:
                del held[:-1]

    def left(self, chance: random.Random, how: str) -> dict[Path, bytes]:
        """What is there after a power cut. `how`: all, least, or any (by chance)."""
        found = {}
        for path, held in self.names.items():
            inode = {"all": held[-1], "least": held[0]}.get(how, chance.choice(held))
            if inode is not None:
                found[path] = _left(self.inodes[inode], chance, how)
        return found


def _left(inode: Inode, chance: random.Random, how: str) -> bytes:
    if how == "all" or inode.written == inode.synced:
        return inode.written
    if how == "least":
        return inode.synced
    kept, rest = len(inode.synced), inode.written[len(inode.synced) :]
    if inode.written[:kept] != inode.synced:
        raise AssertionError("a file was written over in place")
    way = chance.choice(("torn", "zeroed", "blocks", "whole"))
    if way == "torn":
        return inode.synced + rest[: chance.randrange(len(rest) + 1)]
    if way == "zeroed":
        return inode.synced + bytes(len(rest))
    if way == "blocks":
        blocks = [rest[at : at + BLOCK] for at in range(0, len(rest), BLOCK)]
        return inode.synced + b"".join(b if chance.random() < 0.5 else bytes(len(b)) for b in blocks)
    return inode.written


Step = Callable[[Disk], None]


class Recorder:
    """Does every step for real, and keeps it. `fault` is asked before each, by its name, and may raise."""

    def __init__(self, fault: Fault = lambda _: None) -> None:
        self.fault = fault
        self.steps: list[Step] = []
        self.marks: list[tuple[int, Any]] = []  # after so many steps, something was confirmed
        self._files: dict[int, int] = {}  # handle -> inode
        self._folders: dict[int, Path] = {}
        self._names: dict[Path, int] = {}  # path -> inode, as it is now
        self._count = 0

    def confirm(self, what: Any) -> None:
        self.marks.append((len(self.steps), what))

    def made(self, path: Path, handle: int) -> None:
        self._count += 1
        inode = self._files[handle] = self._names[path] = self._count

        def step(disk: Disk) -> None:
            disk.inodes[inode] = Inode()
            disk.point(path, inode)

        self.steps.append(step)

    def wrote(self, handle: int, raw: bytes) -> None:
        inode = self._files.get(handle)

        def step(disk: Disk) -> None:
            assert inode is not None
            disk.inodes[inode].written += raw

        if inode is not None:
            self.steps.append(step)

    def synced(self, handle: int) -> None:
        inode, folder = self._files.get(handle), self._folders.get(handle)

        def step(disk: Disk) -> None:
            if inode is not None:
                disk.inodes[inode].synced = disk.inodes[inode].written
            if folder is not None:
                disk.sync_folder(folder)

        self.steps.append(step)

    def went_on(self, path: Path, handle: int) -> None:
        """A file is opened at its end: what was made before this began is not looked at."""
        if path in self._names:
            self._files[handle] = self._names[path]

    def renamed(self, old: Path, new: Path) -> None:
        if old in self._names:
            self._names[new] = self._names.pop(old)

        def step(disk: Disk) -> None:
            disk.point(new, disk.now(old))
            disk.point(old, None)

        self.steps.append(step)

    def linked(self, old: Path, new: Path) -> None:
        self.steps.append(lambda disk: disk.point(new, disk.now(old)))

    def removed(self, path: Path) -> None:
        self._names.pop(path, None)
        self.steps.append(lambda disk: disk.point(path, None))

    def opened(self, path: Path, handle: int) -> None:
        if os.path.isdir(path):  # noqa: PTH112 - asks nothing of the steps that are made to fail
            self._folders[handle] = path

    def closed(self, handle: int) -> None:
        self._files.pop(handle, None)
        self._folders.pop(handle, None)

    def disk_after(self, steps: int) -> Disk:
        disk = Disk()
        for step in self.steps[:steps]:
            step(disk)
        return disk

    def states(self, seed: int, each: int) -> Iterator[tuple[int, dict[Path, bytes]]]:
        """After every number of steps: what is left, in the two extremes and in `each` ways by chance."""
        chance = random.Random(seed)
        for steps in range(len(self.steps) + 1):
            disk = self.disk_after(steps)
            for how in ("all", "least", *("any",) * each):
                yield steps, disk.left(chance, how)


class _Written:
    """A file opened to be made, which tells the recorder what is written to it."""

    def __init__(self, file: Any, recorder: Recorder) -> None:
        self._file, self._recorder = file, recorder
        self._kept = b""

    def __enter__(self) -> "_Written":
        return self

    def __exit__(self, *_: object) -> None:
        self.flush()
        self._recorder.closed(self._file.fileno())
        self._file.close()

    def write(self, raw: bytes) -> int:
        """It stays in the program until it is flushed."""
        self._recorder.fault("write")
        self._kept += raw
        return int(self._file.write(raw))

    def flush(self) -> None:
        self._file.flush()
        if self._kept:
            self._recorder.wrote(self._file.fileno(), self._kept)
        self._kept = b""

    def fileno(self) -> int:
        return int(self._file.fileno())


LOCK = os.O_RDONLY | os.O_NOFOLLOW  # how the folder is opened that the lock is on


@contextmanager
def recorded(monkeypatch: pytest.MonkeyPatch, recorder: Recorder) -> Iterator[Recorder]:
    """Every step of the job's file layer goes to the recorder while this lasts. The lock is no part of a save."""
    real_open, real_write, real_fsync, real_close, real_link = os.open, os.write, os.fsync, os.close, os.link
    path_open, path_replace, path_unlink, path_mkdir, path_stat = (
        Path.open, Path.replace, Path.unlink, Path.mkdir, Path.stat,
    )  # fmt: skip

    def open_(path: Any, flags: int, *more: Any) -> int:
        if flags != LOCK:
            recorder.fault("open")
        handle = real_open(path, flags, *more)
        if flags & os.O_CREAT:
            recorder.made(Path(path), handle)
        if flags & os.O_APPEND:
            recorder.went_on(Path(path), handle)
        recorder.opened(Path(path), handle)
        return handle

    def write(handle: int, raw: Any) -> int:
        if handle in recorder._files:
            recorder.fault("write")
            raw = bytes(raw)[: max(1, len(raw) * 2 // 3)]  # a system may write less than it was asked to
            recorder.wrote(handle, raw)
        return real_write(handle, raw)

    def fsync(handle: int) -> None:
        recorder.fault("fsync")
        real_fsync(handle)
        recorder.synced(handle)

    def close(handle: int) -> None:
        recorder.closed(handle)
        real_close(handle)

    def link(old: Path, new: Path) -> None:
        recorder.fault("link")
        real_link(old, new)
        recorder.linked(Path(old), Path(new))

    def open_path(path: Path, mode: str = "r", *more: Any, **named: Any) -> Any:
        recorder.fault("open" if "x" in mode else "read")
        file = path_open(path, mode, *more, **named)
        if "x" not in mode:
            return file
        recorder.made(path, file.fileno())
        return _Written(file, recorder)

    def replace(path: Path, target: Path) -> Path:
        recorder.fault("rename")
        path_replace(path, target)
        recorder.renamed(path, Path(target))
        return Path(target)

    def unlink(path: Path, missing_ok: bool = False) -> None:
        recorder.fault("unlink")
        there = os.path.lexists(path)
        path_unlink(path, missing_ok=missing_ok)
        if there:
            recorder.removed(path)

    def mkdir(path: Path, *more: Any, **named: Any) -> None:
        recorder.fault("mkdir")
        path_mkdir(path, *more, **named)

    def stat(path: Path, **named: Any) -> Any:
        recorder.fault("stat")
        return path_stat(path, **named)

    with monkeypatch.context() as patch:
        for name, ours in (("open", open_), ("write", write), ("fsync", fsync), ("close", close), ("link", link)):
            patch.setattr(os, name, ours)
        for name, act in (("open", open_path), ("replace", replace), ("unlink", unlink), ("mkdir", mkdir)):
            patch.setattr(Path, name, act)
        if recorder.fault is not _no_fault:
            patch.setattr(Path, "stat", stat)
        yield recorder


def _no_fault(_: str) -> None:
    """Nothing fails."""
