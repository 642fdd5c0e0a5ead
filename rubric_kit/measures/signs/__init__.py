"""Signs that experienced readers' scores follow, beyond the measures of measured.py.

They take about 0.2 s, and are worked out only where asked for (rubric_kit.scoring.readers), not for a score sheet.
"""

from rubric_kit.measures.signs.signs import SIGNS as SIGNS
from rubric_kit.measures.signs.signs import signs as signs
