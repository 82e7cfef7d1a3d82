"""The rows of the table of yardsticks."""

import pytest

from calibration.trials.yardsticks import Measured, line_of


def cells_of(row: str) -> list[str]:
    return [cell.strip() for cell in row.strip("|").split("|")]


def test_a_row_counts_refusals_apart_and_takes_errors_of_the_rest() -> None:
    found = [Measured(-4.0, 10.0), Measured(8.0, 6.0), Measured(refused="sitting")]
    name, photos, told, mae, bias, sd, _, inside, half = cells_of(line_of("x", found))
    assert (name, photos, told) == ("x", "3", "2")
    assert (float(mae), float(bias), float(sd)) == (6.0, 2.0, 6.0)
    assert (inside, half) == ("50 %", "8")


@pytest.mark.parametrize("found", [[Measured(3.0), Measured(-1.0)], [Measured(refused="sitting")]])
def test_every_row_has_as_many_cells(found: list[Measured]) -> None:
    assert len(cells_of(line_of("x", found))) == 9
