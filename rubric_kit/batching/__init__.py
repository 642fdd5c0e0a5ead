"""Very many essays: rows of a table or files of a folder in, a table of results out, over as many processes as there are."""
