"""Charts as the addresses of images: each in its own document, so that nothing in it can reach the page."""

from __future__ import annotations

import base64

from rubric_kit.showing.charts import Chart
from rubric_kit.showing.charts.files import chart_svg


def data_uri(chart: Chart) -> str:
    return f"data:image/svg+xml;base64,{base64.b64encode(chart_svg(chart)).decode()}"
