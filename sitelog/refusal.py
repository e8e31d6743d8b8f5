"""The one error that a person can cause, written for that person to read."""

JOB_FILE = "FILE"  # stands in a refusal for the job's file, whose name the command line puts there
DONE = 0
PROBLEM = 1
USAGE = 2
DAMAGED = 3
NOT_SAVED = 4
HELD = 5


class Refusal(Exception):
    """One line that names what was wrong and what would be right.

    `code` is the exit code of the command line: 1 the job is not ready for it, 2 usage, 3 file damaged, 4 not saved,
    5 held by another.
    """

    def __init__(self, message: str, *, code: int = USAGE) -> None:
        super().__init__(message)
        self.message = message
        self.code = code
