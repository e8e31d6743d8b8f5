"""`sitelog show`: the job as it stands."""

import sys

from sitelog.cli.keep.job_file import Options, opened


def show(options: Options) -> int:
    """The job as lines, or with --json as one object."""
    from sitelog.job.photos.keeping import album
    from sitelog.job.replies.beside import beside

    with opened(options, read_only=True) as job:
        state = job.state
        photos = album(state, job.file.files)
        replies = beside(job)
    if options.json:
        import json

        from sitelog.job.show import to_json

        json.dump(to_json(state, photos), sys.stdout)  # escaped: what a terminal would obey stands in it, too
        print()
        return 0
    from sitelog.cli.page import page

    print("\n".join(page(state, photos)))
    for offered in replies:
        from sitelog.wording.prompts.replying import offer

        print(f"{offer(offered)}. To enter it: sitelog accept {options.file} {offered.file}")
    return 0
