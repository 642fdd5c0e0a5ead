# ruff: noqa: E501  (a table of characters, of which some take no room)
"""Texts that hypothesis makes up: of any characters whatever, and essays in English with any characters among them."""

from __future__ import annotations

from hypothesis import strategies as st

# What upsets readers, terminals, browsers and fonts, and what looks like the marks that we go by.
ODD = (
    "\0", "\x1b[31m", "\x1b]0;x\x07", "\r", "\r\n", "\n", "\n\n", "\t", "\v", "\f", "\x85", "\u2028", "\u2029", "\ufeff",
    "\u200b", "\u200d", "\u2060", "\u00ad", "\u00a0", "\u3000", "\u202e", "\u202c", "\u2066", "\u2069", "\u200f", "\ud83d",
    "\udc00", "\udcff", "\uffff", "\ue000", "\U000e0041", "e\u0301", "\u0301", "a" + "\u0335" * 40, "👨‍👩‍👧", "👍🏽", "🇨🇭", "שלום",
    "مرحبا", "हिन्दी", "我的狗", "ﬁ", "ß", "İ", "ǅ", "Ⅷ", "½", "²", "𝐩", "…", "...", "?!", ".", ",", ";", ":", "—", "--", "-",
    "’", "'", '"', "“", "”", "(", ")", "[1]", "(12)", "1.", "- ", "* ", "# ", "A.", "Mr.", "U.S.", "3.5", "$1", "50%",
    "a@b.c", "www.a.b", ":)", "<3", "&", "_", "\\", "{", "}", "<", ">", "`", "~", "^", "|", "/", "Title:", "The End",
    "Works Cited", "Grade 5", "May 4, 2026", "By Robin", "Dear Ida,", "Love,",
)  # fmt: skip
PLAIN = (
    "the", "old", "boat", "sank", "in", "the", "bay", "because", "it", "was", "leaking", "and", "I", "think", "that",
    "dogs", "are", "loyal", "they", "help", "people", "every", "day", "for", "example", "my", "dog", "Rex", "First",
    "finally", "teh", "would of", "their", "there", "beautiful", "elephants", "does not", "can't", "well-known",
)  # fmt: skip

characters = st.characters(exclude_categories=())  # halves of surrogate pairs and unassigned ones included
odd = st.sampled_from(ODD)
anything = st.one_of(
    st.text(characters, max_size=300), st.lists(st.one_of(odd, st.text(characters, max_size=8))).map("".join)
)

word = st.sampled_from(PLAIN)
piece = st.one_of(word, word, word, word, word, odd, st.text(characters, max_size=5))
mixed = st.lists(st.tuples(piece, st.sampled_from((" ", " ", " ", " ", "", ". ", "\n"))), max_size=80).map(
    lambda pairs: "".join(text + space for text, space in pairs)
)

sentence = st.tuples(st.lists(word, min_size=3, max_size=12), st.sampled_from(".?!")).map(
    lambda made: f"The {' '.join(made[0])}{made[1]}"
)
# The first sentence is longer than any title or heading, which paragraphs of short ones may be taken for.
LONG = "When the storm came over the hills in the west that night, the old boat sank in the bay below our house."
paragraph = st.lists(sentence, min_size=1, max_size=8).map(lambda sentences: " ".join((LONG, *sentences)))
FRONT = "Robin Ashe\nGrade 5\n\nThe Old Boat\n\n"
ENGLISH = (
    "Dogs are the best friends of people because they are loyal and they help us every day. I think that every family "
    "in our town should have one. They are also a lot of fun when we go to the park after school."
)
essay = st.tuples(mixed, mixed).map(lambda two: f"{FRONT}{ENGLISH}\n\n{two[0]}\n\n{ENGLISH} {two[1]}")
