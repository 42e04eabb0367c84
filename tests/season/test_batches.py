"""Plans by record batches, in another project's scheduler over several processes, against those of one."""

from __future__ import annotations

import os

import pytest
from seasons import DAY, some_lots

from coldspell.season.planning import Planner, Setting

WHY = "type: uv run --all-groups pytest (the group surfaces)"
ROWS = int(os.environ.get("COLDSPELL_BATCH_ROWS", "240"))
"""Set it to 200000 for the whole test."""


@pytest.mark.long
def test_dask_in_several_processes_gives_what_one_process_gives(planner: Planner) -> None:
    pa = pytest.importorskip("pyarrow", reason=WHY)
    dask = pytest.importorskip("dask", reason=WHY)
    from coldspell.season.files.arrow import plan_batch

    said = some_lots(planner, ROWS, 80)
    said[7] = {**said[7], "name": "no such plant at all"}
    rows = [{key: str(value) for key, value in lot.items() if not isinstance(value, list)} for lot in said]
    columns = list(dict.fromkeys(key for row in rows for key in row))
    table = pa.Table.from_pydict({column: [row.get(column) for row in rows] for column in columns})
    size = max(1, min(5_000, ROWS // 6))
    batches = table.to_batches(max_chunksize=size)
    first = [1 + i * size for i in range(len(batches))]
    task = dask.delayed(plan_batch)
    tasks = [task(batch, Setting(DAY), None, row) for batch, row in zip(batches, first, strict=True)]
    several = dask.compute(*tasks, scheduler="processes", num_workers=2)
    one = [plan_batch(batch, planner, None, row) for batch, row in zip(batches, first, strict=True)]
    assert sum(batch.num_rows for batch in several) == ROWS
    assert list(several) == one
    found = pa.Table.from_batches(several)
    assert found["row"].to_pylist() == list(range(1, ROWS + 1))
    assert found["lot"].to_pylist() == [lot["lot"] for lot in said]
    assert sum(text is not None for text in found["refused"].to_pylist()) >= 1
