"""`sitelog accept`: the next trade's reply to a pack, entered in the job."""

import sys
from datetime import datetime
from pathlib import Path

from sitelog.cli.keep.job_file import Options, opened, tell_entered
from sitelog.job.log.entry import Author
from sitelog.job.replies.beside import decoded, text_of
from sitelog.job.replies.plain import MOST
from sitelog.job.replies.reply import read_reply
from sitelog.job.replies.taking import take
from sitelog.job.storage.device import chance, device_id
from sitelog.refusal import DONE, PROBLEM
from sitelog.wording.prompts.replying import taken

PASTED = "-"


def accept(options: Options) -> int:
    """Enter each answer of the reply under the name on it. 1 where points have changed since its pack was made."""
    reply = read_reply(_text(options.reply))
    who = Author(by=reply.by, device=device_id(), now=datetime.now().astimezone(), chance=chance())
    with opened(options, who=who) as job:
        found = take(job, reply, who.now.date())
        state = job.do(found.drafts, who)
    if job.file.left_beside:
        print(f"sitelog: {job.file.left_beside}", file=sys.stderr)
    tell_entered(options, state, list(taken(found)))
    return PROBLEM if found.changed else DONE


def _text(reply: str) -> str:
    """The reply's text: of a file, or pasted on standard input."""
    if reply != PASTED:
        return text_of(Path(reply))
    if sys.stdin.isatty():
        print("Paste the reply, press Enter, then Ctrl-D.", file=sys.stderr)
    return decoded(sys.stdin.buffer.read(4 * MOST + 1), "What was pasted")
