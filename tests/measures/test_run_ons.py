"""Run-ons, comma splices and fragments: what must be found, and what must be let alone."""

from __future__ import annotations

import pytest

from rubric_kit.measures.mechanics.fragments import fragments
from rubric_kit.measures.mechanics.joining import joins_clauses
from rubric_kit.measures.mechanics.run_ons import run_ons
from rubric_kit.measures.parse import parse
from rubric_kit.reading.layout import essay_from_text

RUN_ONS = """
I like dogs they are fun.
We went to the park it was hot.
I have a cat her name is Mia.
My brother is funny he tells jokes.
It was raining we stayed inside.
The movie was long it was boring.
We had no more paint we used mud.
""".strip().splitlines()

SPLICES = """
They found many coins in the cave, these were made of gold.
We ran home fast, its getting dark.
The dog barked, the cat ran away.
She likes to swim, she goes every day.
I woke up late, I missed the bus.
Tom is brave, he saves the girl.
Dogs are loyal, cats are not.
He fell in the mire, they never found him.
He did not call the police, he only told a friend when it was late.
Last summer I beat my brother at chess, he still says that he let me win.
Your brain needs to rest, everybody knows that.
The book was sad, it was about a lost dog.
I think this shows how fast a person can change, it only took him eight days.
She doesn't say he is greedy, she says he is afraid.
I went home, then I ate.
He said it would make them stop, that was dumb because nobody knew.
They can feel the earths magnetic field, its like having a compass.
When the water gets hot they turn white, this is called bleaching.
Amy was polite, she said thank you and she helped at the fair.
We saw the ship, these are facts.
We saw the ship, those are mine.
We saw the ship, that was big.
We saw the ship, this was big.
We ate our lunch, then the dog ran home.
We ate our lunch, then the whole family went home.
We ate lunch, then he slept, then she read.
""".strip().splitlines()

JOINED = """
I think the dog is nice.
I know no one in this town.
He said it was cold.
The book that I read was long.
The cake my aunt baked was good.
It is good, isn't it?
The more you read, the more you learn.
When we got home, we ate.
When the rain stopped we went out.
If you want a dog you need a yard.
If he ran and I fell, we lost the race.
He cooked, she swept, and I slept.
I like dogs, cats, and birds.
Tom, who is my friend, came over.
I was so tired that I fell asleep.
She was happy; he was sad.
We had one rule: nobody goes in alone.
The first time I saw the sea I was six.
There are three reasons why I like school.
My favorite part is when he finds the gold.
What I like most is the ending.
My dog (he is old) sleeps all day.
I hope you like it.
I am glad you came.
No matter what you do, I will help.
Not only is it fun, but it is also healthy.
Another reason is they are fun.
Every detail she has given me is true.
These are the subjects they are interested in.
The truth is I was scared.
Mary finds the key, which was buried, and opens the door.
This, I believe, is wrong.
The sooner we leave, the better.
He did it himself, I think.
She has everything she needs.
Everywhere I went I saw snow.
But the house was empty.
Then we ran, and the dog ran after us.
The day we went to the zoo was hot.
"Come here," he said, "it is late."
He yelled, "Stop, it is hot!"
We were there because it rained, but nobody cared.
She told me he was sick.
It was such a good day that I wrote it down.
It was late, so we left.
Listen to the rain.
He was small but he was quick.
There was a boy whose name was Ned.
By the time he was ten he had read every book.
The minute the door opened, we ran out.
It was fun, I thought at the time.
I almost did becuz I live far away.
Bees like them becuase they come up first.
She lets Becky listen to the story.
The sky is blue, he told her.
It is late, Lucy told herself.
It was a day he had no part in.
It is possible she knows the answer.
I stayed because if you have no time you can't come.
Rat has a hole in the bank, Mole has Mole End, Toad has Toad Hall and Badger has the wild wood.
He spent his time on people, he kept calm and he was fair.
He is the person you can trust the most.
He beleived it was real.
He crossed the river and at the fort it was very cold.
Next time it makes me want to quit I am going to remember him.
He says that when it rains, it is cold.
He says that if it rains, he will stay.
The best part is they they give us a treat.
The letters L. L. stand for a name.
The tears rusted his mouth shut.
By the time he came we had left.
Next time it hurts I am going to stop.
We can play after there breaks.
I remember the day my sister came home.
If I was rich, then I would buy a boat, then I would sail.
He told me he came home.
I am glad you came.
You like it, don't you?
I know what he did.
"I can't," she said, "it is too hard."
"I know it," he said, "and we can go," he told her, "it is late."
Tom likes dogs or he likes cats.
""".strip().splitlines()

FRAGMENTS = """
Or if it rained on them.
Because it was raining.
When we got home.
Running down the street.
The dog in the yard.
My favorite book.
If you want a dog.
Which is why I like it.
The boy who lived next door.
And the cat.
Especially on Fridays.
Like a big red ball.
Such as apples and pears.
To help the poor.
Because nobody ever told her no.
Because she is kind and never gives up.
Although it was late.
""".strip().splitlines()

COMPLETE = """
Sit down and eat.
Do your homework before dinner.
Study for your test.
Help others.
Never give up.
Imagine you are on an island.
Because it rained, we stayed in.
Because I was late I ran.
After lunch we played.
Before bed I read.
Since 2010 we have lived here.
As a student, I think it is fair.
Once my father told me a story.
Until then I had no idea.
Here comes the bus.
Up went the balloon.
Reading a book is like going on a trip.
To win, you must practice.
That is why I think so.
Whoever finds it keeps it.
Dogs and cats are fun.
Yes.
Why not?
What a day!
Oh no!
"Not me," he said.
If not, you won't win.
When talking about ideas it is easy to forget the time.
Scrooge cries when he sees it.
If a skunk comes they sting it even though they die when they sting.
In the future that can hurt you.
After a while my hands stopped hurting.
He sed so.
Hans became a doctor.
In time boys become men.
They where really wrong about it.
They where to late for it.
Because of those letters, books became cheap.
Before this he had been kind.
When he heard what his father had done to the baron he cried.
Growing up hurts in this book.
First my brother snores.
The end.
Its true that dogs are loyal.
One time I worked in a garden.
Most girls who read the book like Jo the best.
When you drive like that it is only luck that nobody gets killed.
So how would it stop them.
Notice who says it.
All of them where wrong.
Because the dogs where always in the yard.
Because their in the house.
Before this Brom had been playing tricks on him.
""".strip().splitlines()


@pytest.mark.parametrize("text", RUN_ONS)
def test_two_sentences_with_nothing_between_them_are_a_run_on(text: str) -> None:
    assert [(item.kind, item.text) for item in _run_ons(text)] == [("run-on", text)]


@pytest.mark.parametrize("text", SPLICES)
def test_two_sentences_with_only_a_comma_between_them_are_a_comma_splice(text: str) -> None:
    assert [(item.kind, item.text) for item in _run_ons(text)] == [("comma splice", text)]


@pytest.mark.parametrize("text", [*JOINED, *COMPLETE])
def test_sentences_that_are_rightly_joined_are_no_run_ons(text: str) -> None:
    assert not _run_ons(text)


@pytest.mark.parametrize("text", FRAGMENTS)
def test_a_part_of_a_sentence_is_a_fragment(text: str) -> None:
    assert [(item.kind, item.text) for item in _fragments(text)] == [("fragment", text)]


@pytest.mark.parametrize("text", [*COMPLETE, *JOINED, *RUN_ONS, *SPLICES])
def test_whole_sentences_are_no_fragments(text: str) -> None:
    assert not _fragments(text)


def test_the_suggestion_shows_where_the_full_stop_goes() -> None:
    assert _run_ons("The dog barked, the cat ran away.")[0].suggestions == ("barked. The",)


def test_lines_of_a_poem_without_full_stops_are_no_fragments() -> None:
    assert not _fragments("The woods in snow\n\nA light below")


def test_the_claim_knows_its_paragraph_and_its_place() -> None:
    text = "I like school.\n\nI like dogs they are fun."
    (item,) = run_ons(essay := essay_from_text(text, "test"), parse(essay))
    assert (item.paragraph, essay.text[item.start : item.end]) == (2, "I like dogs they are fun.")


def test_an_empty_essay_has_neither() -> None:
    assert not _run_ons("")
    assert not _fragments("")


def test_become_is_no_because() -> None:
    assert joins_clauses("becuase")
    assert not joins_clauses("become")


def _run_ons(text: str):
    essay = essay_from_text(text, "test")
    return run_ons(essay, parse(essay))


def _fragments(text: str):
    essay = essay_from_text(text, "test")
    return fragments(essay, parse(essay))
