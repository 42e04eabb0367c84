"""Tables of seed lots as people keep them: CSV, TSV, JSON Lines, Excel, Parquet; rows of lots come out."""
