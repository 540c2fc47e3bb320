"""The folder a designer works in: finding it, reading from it, writing what was built.

Takes a folder, returns its settings, shared data, themes and the bytes of its patterns; takes
bytes, puts them on the disk whole or not at all. Reports ``settings-wrong``, ``not-utf-8``,
``pattern-missing`` and what the data of the trade reports.
"""

from publisher.workshop.data import folder_files, locate
from publisher.workshop.find import (
    Workshop,
    beside_of,
    find_root,
    look_of,
    missing_pattern,
    open_workshop,
    own_forms,
    pattern_file,
    pattern_names,
    read_companions,
    read_own_pages,
    read_pattern,
    read_theme,
)
from publisher.workshop.front import in_front_order
from publisher.workshop.layouts import FolderCache
from publisher.workshop.makers import Maker, makers_of
from publisher.workshop.outcome import Outcome
from publisher.workshop.own import read_own
from publisher.workshop.settings import Settings, read_settings
from publisher.workshop.starter import start_workshop
from publisher.workshop.thorough import (
    Results,
    begin_corners,
    thoroughly,
    with_chosen_marks,
    with_results,
    with_verdicts,
)
from publisher.workshop.workers import Hands, second_hands
from publisher.workshop.writing import write_file, write_folder

__all__ = [
    "FolderCache",
    "Hands",
    "Maker",
    "Outcome",
    "Results",
    "Settings",
    "Workshop",
    "begin_corners",
    "beside_of",
    "find_root",
    "folder_files",
    "in_front_order",
    "locate",
    "look_of",
    "makers_of",
    "missing_pattern",
    "open_workshop",
    "own_forms",
    "pattern_file",
    "pattern_names",
    "read_companions",
    "read_own",
    "read_own_pages",
    "read_pattern",
    "read_settings",
    "read_theme",
    "second_hands",
    "start_workshop",
    "thoroughly",
    "with_chosen_marks",
    "with_results",
    "with_verdicts",
    "write_file",
    "write_folder",
]
