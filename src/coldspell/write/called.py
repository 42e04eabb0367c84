"""What has to be said of the name: what else it may mean, and what of it was not read."""

from __future__ import annotations

from coldspell.library.names import Found
from coldspell.records.name import genus_of
from coldspell.texts import Texts

_MOST = 6
"""Species of a genus that are named; of more the search tells."""


def note(found: Found, texts: Texts) -> str:
    """One or more sentences; empty where the name is a whole name of this plant alone."""
    of = found.record.name
    said = []
    if found.short:
        said.append(texts.say("name_short", name=of))
    if found.unread:
        said.append(texts.say("name_unread", rest=found.unread, name=of))
    if found.others == (genus_of(of),):
        said.append(texts.say("name_of_genus", name=found.matched_as, genus=found.others[0]))
    elif found.others:
        others = ", ".join(found.others[:4]) + (texts.say("name_more") if len(found.others) > 4 else "")
        said.append(texts.say("name_shared", name=found.matched_as, others=others))
    if found.record.rank == "genus" and found.record.asks is None:
        some = ", ".join(found.members[:_MOST]) + (
            texts.say("name_more") if len(found.members) > _MOST else ""
        )
        said.append(texts.say("name_whole_genus" if some else "name_only_genus", genus=of, species=some))
    if found.variety:
        said.append(texts.say("name_variety", variety=found.variety, name=of))
    return " ".join(said)
