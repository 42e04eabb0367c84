"""The local web page: ask in three questions, read the answer, browse the library; and the same as JSON."""
