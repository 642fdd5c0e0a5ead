"""The family's year: students, books, tasks, drafts, proposals, marks and grades in one SQLite file.

begin   make a folder of records      open_family   open one      Family   what is in it, by noun
"""

from rubric_kit.records.family import Family as Family
from rubric_kit.records.family import begin as begin
from rubric_kit.records.family import open_family as open_family
