"""`sitelog show`: the job as it stands."""

from __future__ import annotations

from collections.abc import Iterator

from sitelog.cli.keep.job_file import Options, opened
from sitelog.cli.script.tell import print_json
from sitelog.job.job import Job
from sitelog.job.storage.copies import found
from sitelog.refusal import DONE

TYPE_CHECKING = False
if TYPE_CHECKING:
    from sitelog.job.state.views import State


def show(options: Options) -> int:
    """The job as lines, or with --json as one object."""
    with opened(options, read_only=True) as job:
        replies, copies = list(_replies(job, options.file)), list(_copies(job, options.file))
        if options.json:
            from sitelog.job.photos.keeping import album
            from sitelog.job.show import job_data

            photos = album(job.state, job.file.files)
            print_json(job_data(job.state, photos, replies, job.library, copies))
            return DONE
        print("\n".join([*_lines(job), *replies, *copies]))
    return DONE


def _lines(job: Job) -> tuple[str, ...]:
    """The page as it was last told of the same state; anew where more than the state is in it."""
    told = job.told("page", _by_itself)
    if told:
        return told
    from sitelog.cli.page import page
    from sitelog.job.photos.keeping import album

    return tuple(page(job.state, album(job.state, job.file.files)))


def _by_itself(state: State) -> tuple[str, ...]:
    """The page of a state; none where it tells how photos stand on the disk, or days by this machine's clock."""
    from sitelog.cli.page import page
    from sitelog.job.photos.keeping import album

    shown = album(state, None)
    if state.earlier or any(photo.taken.photo for photo in shown):
        return ()
    return tuple(page(state, shown))


def _replies(job: Job, file: str) -> Iterator[str]:
    """Each reply that lies beside the job, and what to type to enter it."""
    from sitelog.job.replies.beside import beside

    for offered in beside(job):
        from sitelog.wording.prompts.replying import offer

        yield f"{offer(offered)}. To enter it: sitelog accept {file} {offered.file}"


def _copies(job: Job, file: str) -> Iterator[str]:
    """Each copy of the job that lies beside it, what it has, and what to type."""
    if copies := found(job.file.path, job.entries):
        from sitelog.wording.prompts.rescuing import copy_offers

        yield from copy_offers(copies, file)
