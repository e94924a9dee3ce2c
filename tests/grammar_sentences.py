# SPDX-License-Identifier: MIT
# Draws sentences from the EBNF in docs/grammar.md, the same ones every time: "KINDS<TAB>SENTENCE" a
# line, KINDS the rules of its statements, joined by "+".
import random
import re

KINDS = ["reading", "status", "service", "correct", "swap", "later", "park", "back",
         "trouble", "told", "solved", "book", "in", "out", "gone",
         "due", "undo", "yes", "no", "help", "stop", "start"]
EACH = 60

page = open("docs/grammar.md", encoding="utf-8").read()
block = re.search(r"```ebnf\n(.*?)```", page, re.S).group(1)
tokens = re.findall(r'"[^"]*"|\w+|[=;|,\[\]{}()]', block)
position = 0


def expression():
    options = [sequence()]
    while tokens[position] == "|":
        step()
        options.append(sequence())
    return ("or", options)


def sequence():
    parts = [item()]
    while tokens[position] == ",":
        step()
        parts.append(item())
    return ("then", parts)


def item():
    token = step()
    if token == "[":
        inner = expression()
        assert step() == "]", "a bracket is open"
        return ("maybe", inner)
    if token == "{":
        inner = expression()
        assert step() == "}", "a brace is open"
        return ("many", inner)
    return ("word", token[1:-1]) if token[0] == '"' else ("rule", token)


def step():
    global position
    position += 1
    return tokens[position - 1]


rules = {}
while position < len(tokens):
    name = step()
    assert step() == "=", name
    rules[name] = expression()
    assert step() == ";", name

chance = random.Random(20270301)


def draw(node, kinds):
    kind, value = node
    if kind == "word":
        return value
    if kind == "rule":
        if value in KINDS:
            kinds.append(value)
        return draw(rules[value], kinds)
    if kind == "or":
        return draw(chance.choice(value), kinds)
    if kind == "then":
        return "".join(draw(part, kinds) for part in value)
    times = chance.randint(0, 1 if kind == "maybe" else 2)
    return "".join(draw(value, kinds) for _ in range(times))


for rule in KINDS:
    for sentence in sorted({draw(rules[rule], []) for _ in range(EACH)}):
        print(rule, sentence, sep="\t")
for _ in range(EACH):
    kinds = []
    sentence = draw(rules["text"], kinds)
    print("+".join(kinds), sentence, sep="\t")
