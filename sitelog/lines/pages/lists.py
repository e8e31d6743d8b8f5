"""What newer lists change, the earlier checks, and the job brought to the newest."""

from sitelog.lines.session import LineSession
from sitelog.lines.talk import lines
from sitelog.wording.lists import BROUGHT, NEWEST, OLDER, groups
from sitelog.wording.prompts import prompts


def lists(session: LineSession, path: str) -> str:
    """What newer lists change and the earlier checks; then the job can be brought to the newest."""
    told = groups(session.job)
    for title, items in told:
        session.talk.say("", f"{title}:", *(". ".join([item.words, *lines(list(item.told))]) for item in items))
    if not session.state.changed_lists:
        session.talk.say(f"{NEWEST}{'' if told else ', and no earlier checks were removed'}.")
        return ""
    session.talk.say("", f"{OLDER}.")
    if not session.do(lambda: prompts.newest_lists(session.job.newest_lists)):
        return ""
    session.talk.say(f"{BROUGHT}, by {session.by}.")
    if session.state.check(path) or session.state.stage(path):
        return path
    return session.state.next or session.state.order[0].path
