"""Which sentence does what: roles of paragraphs, thesis, topic sentences, evidence, transitions, restated thesis."""
