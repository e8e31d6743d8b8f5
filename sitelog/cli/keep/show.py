"""`sitelog show`: the job as it stands."""

from collections.abc import Iterator

from sitelog.cli.keep.job_file import Options, opened
from sitelog.cli.script.tell import print_json
from sitelog.job.job import Job
from sitelog.job.photos.keeping import album
from sitelog.refusal import DONE


def show(options: Options) -> int:
    """The job as lines, or with --json as one object."""
    with opened(options, read_only=True) as job:
        state = job.state
        photos = album(state, job.file.files)
        offers = list(_offers(job, options.file))
    if options.json:
        from sitelog.job.show import job_data

        print_json(job_data(state, photos, offers))
        return DONE
    from sitelog.cli.page import page

    print("\n".join([*page(state, photos), *offers]))
    return DONE


def _offers(job: Job, file: str) -> Iterator[str]:
    """Each reply that lies beside the job, and what to type to enter it."""
    from sitelog.job.replies.beside import beside

    for offered in beside(job):
        from sitelog.wording.prompts.replying import offer

        yield f"{offer(offered)}. To enter it: sitelog accept {file} {offered.file}"
