"""Easily confused words: slips that must be found, and right uses that must not be accused."""

from __future__ import annotations

import pytest

from rubric_kit.measures.mechanics.confused import confused_words
from rubric_kit.measures.parse import parse
from rubric_kit.reading.layout import essay_from_text


def test_your_with_a_capital_is_no_name_that_owns() -> None:
    assert _claims("He wrote Your Dog and Yours dog ran.") == []


def _claims(text: str) -> list[tuple[str, str]]:
    essay = essay_from_text(text, "test")
    return [(item.text, item.suggestions[0]) for item in confused_words(essay, parse(essay))]


@pytest.mark.parametrize(
    ("text", "claims"),
    [
        ("They lost there dog in the park.", [("there", "their")]),
        ("Their is a fox in the barn.", [("Their", "There")]),
        ("There going home after the game.", [("There", "They're")]),
        ("The dog hurt it's leg.", [("it's", "its")]),
        ("I think its a good book.", [("its", "it's")]),
        ("Your the best friend I have.", [("Your", "You're")]),
        ("She ate to much cake.", [("to", "too")]),
        ("I like dogs to.", [("to", "too")]),
        ("He is taller then his brother.", [("then", "than")]),
        ("First we ate and than we left.", [("than", "then")]),
        ("He fell of the wall.", [("of", "off")]),
        ("I could of won the race.", [("could of", "could have")]),
        ("That is the house were I was born.", [("were", "where")]),
        ("He ate the hole pie.", [("hole", "whole")]),
        ("We walked threw the woods.", [("threw", "through")]),
        ("I want to by a new bike.", [("by", "buy")]),
        ("I do not no the answer.", [("no", "know")]),
        ("You can not here the music.", [("here", "hear")]),
        ("I wonder weather it will rain.", [("weather", "whether")]),
        ("I cant swim and I wont try.", [("cant", "can't"), ("wont", "won't")]),
        ("We went in my dads truck.", [("dads", "dad's")]),
        ("He did it all by him self.", [("him self", "himself")]),
        ("Every thing was wet.", [("Every thing", "Everything")]),
        ("I do not want to loose my hat.", [("loose", "lose")]),
        ("She was quite as a mouse.", [("quite", "quiet")]),
        ("I like all animals accept snakes.", [("accept", "except")]),
        ("The frog turned in to a prince.", [("in to", "into")]),
        ("We met the judge in the court room.", [("court room", "courtroom")]),
        ("They love there mothers.", [("there", "their")]),
        ("I could hardly breath.", [("breath", "breathe")]),
        ("I stayed cause I was sick.", [("cause", "because")]),
        ("Mole is lonely to.", [("to", "too")]),
        ("The road is to wide.", [("to", "too")]),
        ("You lose points if your behind.", [("your", "you're")]),
        ("She hides when your scared.", [("your", "you're")]),
        ("Talk to her so she knows your there.", [("your", "you're")]),
        ("He watches them threw a hole.", [("threw", "through")]),
        ("I cared more about helping then about fun.", [("then", "than")]),
        ("He took Dads sock.", [("Dads", "Dad's")]),
        ("He cut off the wildcats head.", [("wildcats", "wildcat's")]),
        ("The soap burned peoples hands.", [("peoples", "people's")]),
    ],
)
def test_a_confused_word_is_found_with_the_right_one(text: str, claims: list[tuple[str, str]]) -> None:
    assert _claims(text) == claims


RIGHT = """
He came in to eat and went back in to get his hat.
Storms cause floods, and they cause harm.
I would of course go.
He could of course swim.
Some body part always hurts.
She took a deep breath before she played the role of the king.
They lost their dog over there, and they're sad.
There are three reasons why there should be more parks.
It's late, and the dog wants its bone.
Your dog is here, and you're late.
I went to two stores, and you did too.
If it rains, then we stay; it is better than nothing.
No sooner had he left than it rained.
He is bigger than I am, and then some.
The lid of the box fell off.
We were there where the road ends, and we're glad.
Whose coat is this, and who's there?
I hear that you live here.
I know no one in this town. No, I don't know now.
I knew the new boy.
Our dogs are in our yard.
I accept all but one, except this.
The effect was small, but it did affect us.
Whether the weather is good or not, we go.
He threw the ball through the window, though I thought it was shut.
Stand by the door and buy a ticket.
You are right; write it down.
The witch, which was old, flew.
We passed the house, walked past it, and thought about the past.
A piece of cake gave us peace.
The plane landed on the plain.
The letter from him was in the form of a poem.
It was quite quiet, so he quit.
A loose tooth is one you can lose.
He lets us play. Let's go.
I feel well, and we'll win.
We went there because there used to be a city there.
The wildcats head for the hills.
He ate more soup and then just slept.
Those two peoples hands were full.
Tell me if your behind hurts.
I was ill, but I'll come.
The well was deep.
We were ill. Were you there?
His dog is old; he's six.
The whole sock had a hole in it.
In a week I was weak.
We meet on Sunday to eat meat.
One team won.
I see the sea.
The sun woke my son.
Wait until you know the weight.
Would you cut the wood?
That is the one that that boy had had.
To go too far is to go two steps more.
Of course he could, of all people.
What of it? He thought of it first.
Some of them were off to school.
She did not want to go, so she went home.
The man and the men met the woman and the women.
He was tired, but he tried.
I brought the hat that I bought.
Every one of them ran, and any one of us can.
My brothers play ball, and my cats like milk.
My friends and I ran. His dogs bark.
They are there for their friends.
As was his wont, he slept.
Is there anybody there? There it is.
"There, there," said their aunt.
That is too bad. Me too.
From then on we were friends; since then he is kind.
Other than that, rather than run, he hid.
""".strip().splitlines()


@pytest.mark.parametrize("text", RIGHT)
def test_right_words_are_let_alone(text: str) -> None:
    assert not _claims(text)


def test_the_claim_says_what_the_right_word_means_and_where_it_stands() -> None:
    text = "I like dogs.\n\nThey lost there dog."
    (item,) = confused_words(essay := essay_from_text(text, "test"), parse(essay))
    assert (item.kind, item.paragraph, item.why) == (
        "there/their",
        2,
        "“there” should probably be “their”: belonging to them.",
    )
    assert essay.text[item.start : item.end] == "there"


def test_curly_apostrophes_count_as_apostrophes() -> None:
    assert _claims("The dog hurt it’s leg.") == [("it’s", "its")]


def test_an_empty_essay_has_no_confused_words() -> None:
    assert not _claims("")
