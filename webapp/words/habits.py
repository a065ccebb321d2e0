"""What a habit rests on, in a few words for the client, by the mark of its sources. The handbook names the sources themselves."""

from webapp.words.catalogue import mark

BASIS = {
    "seen": mark("published"),
    "second-hand": mark("published, read second-hand"),
    "common-practice": mark("common practice, no source"),
    "derived": mark("our arithmetic"),
    "own-choice": mark("own choice"),
}
