"""The files of a library as JSON Schema, for editors that complete keys and say what they mean.

Keys of the language are those of the parser, and no others are let through. Names - of readings, work, trees - are
offered as the library at hand has them, and never refused: whoever is just adding one is told by `check`, which is
the judge of everything else too.
"""
