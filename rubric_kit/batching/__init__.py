"""Very many essays: rows of a table or files of a folder in, a table of results out, over many processes."""
