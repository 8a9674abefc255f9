"""What is written down at an appliance, out of a document: each thing once, as its kind asks for it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from flueleaf.domain.judging.noted import LONGEST_NOTE, Note
from flueleaf.domain.words import said
from flueleaf.operations.intake.reader import Reader


def read_notes(reader: Reader, known: Sequence[Note]) -> Mapping[str, str]:
    """Read the notes of a work, in the order given; a refused or blank one is left out.

    Args:
        reader: of the work.
        known: what its kind writes down; none where the kind itself was refused.
    """
    asked = {note.key: note for note in known}
    found: dict[str, str] = {}
    for entry in reader.items("notes"):
        before = len(entry.faults)
        key = entry.choice("key", tuple(asked)) if asked else entry.text("key", required=True)
        text = entry.text("text", required=True, longest=LONGEST_NOTE)
        if (
            len(entry.faults) > before
        ):  # the key of a refused one is a stand-in, which may not be held against it
            continue
        if key in found:
            entry.fault("key", said("each note once"))
        elif key in asked and (fault := asked[key].fault(text, entry.path("text"))) is not None:
            entry.note(fault)
        else:
            found[key] = text
    return found
