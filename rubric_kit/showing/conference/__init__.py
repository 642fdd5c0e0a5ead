"""The writing conference: a page to sit beside the child with, for a notebook, the web browser and paper.

from rubric_kit.showing.conference import talk, talk_pdf

page = talk(family, draft.id)
talk_pdf(page, goal="A reason in each part.")
"""

from rubric_kit.showing.conference.pages import talk_html as talk_html
from rubric_kit.showing.conference.pages import talk_pdf as talk_pdf
from rubric_kit.showing.conference.talk import Talk as Talk
from rubric_kit.showing.conference.talk import talk as talk
