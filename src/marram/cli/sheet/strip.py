"""`marram sheet strip`: a measuring strip at true size."""

from __future__ import annotations

from pathlib import Path

import click

from marram.cli.common import write_whole
from marram.cli.writing import file_option


@click.command()
@click.option("--length", required=True, metavar="LENGTH", help="How long: a number with in, ft, yd, cm or m, as in 20in; 5 m at most.")
@file_option("-o", "--out", required=True, help="The PDF file to write.")
def strip(length: str, out: Path) -> None:
    """Make a measuring strip of a LENGTH, to print at 100 %, cut out and glue together."""
    from marram.core.errors import DataError
    from marram.office.sheets.print_sheet import print_strip

    if out.suffix.lower() != ".pdf":
        raise DataError("A strip is true to size only as a PDF.", where=out.name, hint="End the name in .pdf.")
    write_whole(out, print_strip(length))
    click.echo(f"Written: {out}", err=True)
