"""The tables of the trade as data: true sizes, code limits, cautions, upkeep; every row names its source."""
