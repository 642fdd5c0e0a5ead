"""A year of one child's pieces becomes trends with their uncertainty, beside the reader's own error."""
