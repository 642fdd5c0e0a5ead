"""The first layers of the parser worked out once for each different word of a batch, and not for each token.

They make a vector of what a token is by itself (its letters, its shape, a space behind it), so equal tokens get equal
vectors; three of four tokens of a batch of essays have been met in it already. The layers after them, which look at
neighbours, are left as they are. The vectors are the same to the last bit.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from numpy.typing import NDArray
    from spacy.language import Language

# What the layers of spaCy's MultiHashEmbed are called, in order; the third and the fourth are asked once a word.
EXTRACT, EMBED, MIX = "extract_features", "with_array(ints-getitem>>hashembed", "with_array(maxout>>layernorm"
BITS = 64  # of the number that stands for the features of a token


def embed_each_word_once(nlp: Language) -> None:
    """Change a loaded pipeline so; one of another making is left as it is."""
    from thinc.api import Model, chain

    embedding: Any = nlp.get_pipe("tok2vec").model.layers[0]  # type: ignore[attr-defined]  # a pipe has no stub
    names = [layer.name for layer in embedding.layers]
    if len(names) == 5 and names[0] == EXTRACT and names[2].startswith(EMBED) and names[3].startswith(MIX):
        whole: Any = chain(*embedding.layers[2:4])
        once: Any = Model("once", _forward, layers=[whole])
        embedding.layers[2:4] = [once]


def _forward(model: Any, tokens: Any, is_train: bool) -> tuple[Any, Any]:
    """For a Ragged of features, a row a token, a Ragged of vectors. It is not for training."""
    from thinc.api import Ragged

    first, which = first_of_each(tokens.data)
    vectors = model.layers[0].predict(Ragged(tokens.data[first], model.ops.asarray1i([len(first)])))
    return Ragged(vectors.data[which], tokens.lengths), None


def first_of_each(rows: NDArray[Any]) -> tuple[NDArray[Any], NDArray[Any]]:
    """Where each different row of a table of integers comes first, and for every row which of those it is like."""
    import numpy as np

    _, first, which = np.unique(rows @ multipliers(rows.shape[1]), return_index=True, return_inverse=True)
    if np.array_equal(rows[first][which], rows):
        return first, which
    every = np.arange(len(rows))  # two different rows have the same number, which is next to impossible
    return every, every


def multipliers(columns: int) -> NDArray[Any]:
    """Odd numbers, by chance but always the same, by which the columns of a row become one number."""
    import numpy as np

    return np.random.default_rng(0).integers(1 << (BITS - 1), size=columns, dtype=np.uint64) * 2 + 1
