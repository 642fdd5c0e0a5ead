"""The portfolio of a school year and the report of a term, for the family's own files or whoever asks for them.

    from rubric_kit.showing.portfolio import portfolio, preview, write_pdf

    year = portfolio(family, student.id, "2025-26", initials=True)
    write_pdf(year, "portfolio.pdf")
    preview(year)                       # the last line of a notebook cell shows it

``term_report(family, student.id, term)`` gives one page; it is shown and written by the same functions.
"""

from rubric_kit.showing.portfolio.contents import PARTS as PARTS
from rubric_kit.showing.portfolio.contents import portfolio as portfolio
from rubric_kit.showing.portfolio.material import last_year as last_year
from rubric_kit.showing.portfolio.pages import Paper as Paper
from rubric_kit.showing.portfolio.pages import page_html as page_html
from rubric_kit.showing.portfolio.pages import page_pdf as page_pdf
from rubric_kit.showing.portfolio.pages import preview as preview
from rubric_kit.showing.portfolio.pages import write_html as write_html
from rubric_kit.showing.portfolio.pages import write_pdf as write_pdf
from rubric_kit.showing.portfolio.report import term_report as term_report
