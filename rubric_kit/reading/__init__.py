"""A file or a text becomes an Essay: paragraphs, sentences and words, each with its offsets."""

from rubric_kit.reading.essay import Block, Essay, Paragraph, Sentence, Word
from rubric_kit.reading.files import read, read_bytes, read_piped, read_text

__all__ = ["Block", "Essay", "Paragraph", "Sentence", "Word", "read", "read_bytes", "read_piped", "read_text"]
