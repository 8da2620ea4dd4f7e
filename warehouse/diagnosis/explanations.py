"""The shape of an explanation: one way to make every figure of one sheet agree."""

import polars as pl

EXPLANATIONS = pl.Schema(
    {
        "id": pl.UInt32(),  # place of the sheet in its file's table
        "place": pl.UInt16(),  # 0 is the likeliest explanation of its sheet
        "tie": pl.Boolean(),  # another explanation of the sheet is as likely as this one
        "kind": pl.String(),  # a slip's (`slips.Kind`), tip-as-point or other-category; two slips are joined by " and "
        "cells": pl.List(pl.String()),  # our field names of the cells that are wrong
        "stated": pl.List(pl.Int32()),  # what they say, in units; null: blank, or not to be read
        "proposed": pl.List(pl.Int32()),  # what would make the sheet agree, in units
        "follows": pl.List(pl.String()),  # stated figures that were worked out from a wrong one and change with it
        "follows_proposed": pl.List(pl.Int32()),
        "net": pl.Int32(),  # the net this explanation gives, in units
        "why": pl.String(),  # one sentence a hunter would understand, ending in a full stop
    }
)


def nothing_explained() -> pl.DataFrame:
    """An empty frame of explanations."""
    return pl.DataFrame(schema=EXPLANATIONS)
