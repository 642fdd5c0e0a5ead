"""A text in another language is told so; English of any kind is scored."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from rubric_kit.reading import read_text
from rubric_kit.scoring.language import LEAST_LITTLE_WORDS, NotEnglishError, check_english, share_of_little_words

TUNE = Path(__file__).parents[1] / "labelled" / "tune"
OTHER = {
    "Spanish": "El perro de mi hermano es muy grande y le gusta correr por el parque. Cada día vamos a la playa con él "
    "porque no hay nadie. Creo que los perros son los mejores amigos.",
    "French": "Mon chien est très grand et il aime courir dans le parc. Chaque jour nous allons à la plage avec lui. "
    "Je pense que les chiens sont nos meilleurs amis. On a lu un livre sur les chiens.",
    "German": "Mein Hund ist sehr groß und er läuft gern im Park. Jeden Tag gehen wir an den Strand. Ich glaube, dass "
    "Hunde die besten Freunde sind. Er war so in der Schule, und wir haben was, also hat er an.",
    "Italian": "Il mio cane è molto grande e ama correre nel parco. Ogni giorno andiamo al mare con lui. Io ho un "
    "libro di cani e mi è piaciuto.",
    "Portuguese": "O meu cachorro é muito grande e gosta de correr no parque. Todos os dias vamos à praia com ele. Eu "
    "acho que os cães são os melhores amigos.",
    "Dutch": "Mijn hond is heel groot en hij rent graag in het park. Elke dag gaan we naar het strand. Ik denk dat "
    "honden de beste vrienden zijn.",
    "Tagalog": "Ang aso ko ay malaki at gusto niyang tumakbo sa parke. Araw-araw pumupunta kami sa dagat. Sa tingin ko "
    "ang mga aso ang pinakamabuting kaibigan ng tao.",
    "Latin": "Gallia est omnis divisa in partes tres, quarum unam incolunt Belgae, aliam Aquitani, tertiam qui ipsorum "
    "lingua Celtae, nostra Galli appellantur. Hi omnes lingua, institutis, legibus inter se differunt.",
    "filler": "Lorem ipsum dolor sit amet, consectetur adipiscing elit, sed do eiusmod tempor incididunt ut labore et "
    "dolore magna aliqua. Ut enim ad minim veniam, quis nostrud exercitation ullamco laboris.",
    "Polish": "Mój pies jest bardzo duży i lubi biegać po parku. Codziennie chodzimy z nim na plażę. Myślę, że psy są "
    "najlepszymi przyjaciółmi. Czytałem o tym książkę i bardzo mi się podobała.",
    "Chinese": "我的狗很大。它喜欢在公园里跑。每天我们都去海滩。",
    "Russian": "Моя собака очень большая. Она любит бегать в парке.",
    "Arabic": "كلبي كبير جدا. يحب الجري في الحديقة.",
    "Greek": "Ο σκύλος μου είναι πολύ μεγάλος.",
    "a list": "Eggs, milk, flour, sugar, butter, cheese, apples, bread, honey, oats, rice, beans, carrots. " * 2,
}  # fmt: skip
ENGLISH = {
    "a poem": "Tiger, tiger, burning bright\nIn the forests of the night,\nWhat immortal hand or eye\nCould frame thy "
    "fearful symmetry?\nIn what distant deeps or skies\nBurnt the fire of thine eyes?",
    "wild spelling": "mi dog iz brown an he liks too run in tha park evry day wen we go thair we hav fun an i liv him",
    "capitals": "MY DOG IS BROWN AND HE LIKES TO RUN IN THE PARK. WE GO TO THE PARK EVERY DAY AND IT IS A LOT OF FUN.",
    "a few words": "Dogs bark loudly.",
    "with a Greek word": "The word λόγος means a reason.",
}


@pytest.mark.parametrize("language", OTHER)
def test_another_language_is_told_in_a_line_that_names_the_file(language: str) -> None:
    with pytest.raises(NotEnglishError, match=r"^a\.txt: .*Hand in an essay in English") as raised:
        check_english(read_text(OTHER[language], "a.txt"))
    assert "\n" not in str(raised.value)


@pytest.mark.parametrize("kind", ENGLISH)
def test_english_of_any_kind_passes(kind: str) -> None:
    check_english(read_text(ENGLISH[kind]))


def test_every_labelled_essay_for_tuning_is_far_above_the_line() -> None:
    texts = [tomllib.loads(path.read_text("utf-8"))["text"] for path in TUNE.glob("*.toml")]
    assert min(share_of_little_words(read_text(text)) for text in texts) > 1.8 * LEAST_LITTLE_WORDS


def test_the_line_says_what_is_wrong_and_what_to_hand_in() -> None:
    with pytest.raises(NotEnglishError) as raised:
        check_english(read_text(OTHER["Greek"], "mine.txt"))
    assert str(raised.value) == "mine.txt: it is not written in English letters. Hand in an essay in English."
    with pytest.raises(NotEnglishError) as raised:
        check_english(read_text(OTHER["a list"], "mine.txt"))
    assert str(raised.value) == (
        "mine.txt: it does not read like English sentences: only 0% of its words are little words such as the, and, "
        "of. Hand in an essay in English, in whole sentences."
    )


def test_little_words_are_counted_with_capitals_and_before_an_apostrophe_of_either_shape() -> None:
    assert share_of_little_words(read_text("It's he'll They’re dog's.")) == 0.75
    assert share_of_little_words(read_text("The dog barks.")) == pytest.approx(1 / 3)


def test_half_foreign_letters_are_let_pass_and_more_are_not() -> None:
    check_english(read_text("The dog Собака it is."))
    with pytest.raises(NotEnglishError, match="English letters"):
        check_english(read_text("The dog Собака Собака."))
