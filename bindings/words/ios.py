"""The other phone's Swift: every word of [now] as Words.Now.…, and words and figures by the ids that the core speaks of.

What the words are stands in the string catalogue (apple.py); this file knows their names and what is put into them.
"""

import re

from source import CHOICES

HEAD = "// Written by bindings/words/generate: change en.toml or the figures instead.\n"
# Words of Swift's own that stand in backticks as names: "The Swift Programming Language", Lexical Structure, Keywords and Punctuation.
RESERVED = frozenset(
    "associatedtype class deinit enum extension fileprivate func import init inout internal let open operator private precedencegroup "
    "protocol public rethrows static struct subscript typealias var break case catch continue default defer do else fallthrough for "
    "guard if in repeat return switch throw where while Any as await false is nil self Self super throws true try Type Protocol".split()
)
PLAIN = re.compile(r"[^\x20-\x7e]")


def camel(name):
    """print_nights and host-sure as Swift spells names: printNights, hostSure."""
    first, *rest = re.split("[_-]", name)
    return first + "".join(part.capitalize() for part in rest)


def group(text):
    """The name of a table: Now."""
    name = camel(text.group)
    return name[0].upper() + name[1:]


def member(name):
    """The name of a key, in backticks where Swift has that word for itself."""
    return f"`{camel(name)}`" if camel(name) in RESERVED else camel(name)


def quoted(text):
    """A text as Swift spells it: "The Swift Programming Language", String Literals."""
    for plain, spelled in (("\\", "\\\\"), ('"', '\\"'), ("\n", "\\n"), ("\r", "\\r"), ("\t", "\\t")):
        text = text.replace(plain, spelled)
    return f'"{text}"'


def declared(text):
    """One word or sentence."""
    if not text.placeholders:
        return f"        public static var {member(text.key)}: String {{ Catalogue.say({quoted(text.id)}) }}"
    kinds = ", ".join(f"{member(it.name)}: {'Int' if it.whole_number else 'String'}" for it in text.placeholders)
    given = ", ".join(f".{'number' if it.whole_number else 'text'}({member(it.name)})" for it in text.placeholders)
    return f"        public static func {member(text.key)}({kinds}) -> String {{ Catalogue.say({quoted(text.id)}, {given}) }}"


def typed(texts):
    """The tables whose words are spoken by name. Errors and the core's own words are found by what the core calls them."""
    tables = {}
    for text in texts.values():
        if text.group not in ("error", "purpose", *CHOICES):
            tables.setdefault(group(text), []).append(text)
    return "\n".join(
        f"    /// {told[0].about}\n    public enum {name} {{\n" + "\n".join(declared(text) for text in told) + "\n    }\n"
        for name, told in tables.items()
    )


def words(texts):
    """Words.swift."""
    errors = "\n".join(
        f"        {quoted(text.key)}: Sentence(key: {quoted(text.id)}, arguments: [{', '.join(quoted(it.name) for it in text.placeholders)}]),"
        for text in texts.values()
        if text.group == "error"
    )
    choices = "\n".join(
        f"        {quoted(field)}: [\n"
        + "\n".join(
            f"            (word: {quoted(text.key.replace('_', ' '))}, key: {quoted(text.id)})," for text in texts.values() if text.group == field
        )
        + "\n        ],"
        for field in CHOICES
    )
    return f"""{HEAD}
/// Trug's own words, by the page on which they stand.
public enum Words {{
{typed(texts)}
    /// The sentence of an error's code.
    static let errors: [String: Sentence] = [
{errors}
    ]

    /// What the core's words are called, by what they are words for, in their natural order.
    static let choices: [String: [(word: String, key: String)]] = [
{choices}
    ]
}}
"""


def figures(drawn):
    """Figures.swift, of (width, height, lines) by id."""
    told = "\n".join(
        f"        {quoted(id_)}: Figure({width:g}, {height:g}, ["
        + ", ".join(f"Stroke({thick:g}, {quoted(outline)})" for thick, outline in lines)
        + "]),"
        for id_, (width, height, lines) in drawn.items()
    )
    return f"""{HEAD}
extension Figure {{
    /// Every figure, by its id.
    public static let all: [String: Figure] = [
{told}
    ]
}}
"""


SPOKEN = re.compile(r"\bWords\.([A-Z]\w*)\.(?:`(\w+)`|(\w+))")


def spoken(texts, sources):
    """The ids of all words that Swift speaks of; what it speaks of and is not there as it is spelled."""
    names = {(group(text), camel(text.key)): text.id for text in texts.values()}
    found = set()
    for source in sources:
        for table, reserved, plain in SPOKEN.findall(source.read_text(encoding="utf-8")):
            found.add(names.get((table, reserved or plain), f"Words.{table}.{reserved or plain}"))
    return found
