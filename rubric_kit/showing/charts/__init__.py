"""Charts of one child's writing, each with its alt text and what it says in plain words.

    from rubric_kit.showing.charts.year import chart

    chart("level", family, student)     # the last line of a notebook cell shows it

A chart is made from a tidy pandas table (tables.py). ``Chart.draw(ax)`` draws it on axes of your own; files.py makes
SVG, PNG and HTML of it.
"""

from rubric_kit.showing.charts.chart import Chart as Chart
