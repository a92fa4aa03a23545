"""Adapter for examples of what makes values differ that come in clusters, such as the days of a season."""

from collections.abc import Mapping

import pandas as pd

from marram.evidence.planning.spread_of_past import variance_components
from tests.published.adapter import Adapter, Unfit
from tests.published.datasets import read_dataset

Inputs = Mapping[str, object]
Values = Mapping[str, object]
_ROW_NAMES = frozenset({"rownames", "Unnamed: 0"})


def _components(inputs: Inputs) -> Values:
    frame = read_dataset(str(inputs["dataset"])).frame
    columns = [name for name in frame.columns if name not in _ROW_NAMES]
    measured = [name for name in columns if pd.api.types.is_numeric_dtype(frame[name])]
    clusters = [name for name in columns if name not in measured]
    if len(measured) != 1 or len(clusters) != 1:
        raise Unfit(f"of {columns} one should say the cluster and one the value")
    found = variance_components([list(map(float, lot)) for _, lot in frame.groupby(clusters[0], observed=True)[measured[0]]])
    return {"between": found.between, "within": found.within, "icc": found.correlation}


ADAPTERS = (Adapter(topic="mixed", inputs=frozenset({"dataset"}), work_out=_components),)
