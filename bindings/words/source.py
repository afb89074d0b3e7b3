"""The words as they are written: read, and checked against each other and against what uses them."""

import re
import tomllib
from dataclasses import dataclass, field
from pathlib import Path
from string import Formatter

ENGLISH = "en"
# CLDR's names for plural forms; English has these two of them.
FORMS = ("zero", "one", "two", "few", "many", "other")
ENGLISH_FORMS = {"one", "other"}
# Tables whose keys are the core's own words, found by them and not by name: what looking costs, and the closed lists of a find,
# an outing, a patch and a photo. A blank in a word is _ in its key.
CHOICES = (
    "effort", "on", "ground", "growth", "hazards", "stages", "host-sure", "how", "got", "role", "may-pick", "outcome", "compass",
    "prepared", "alcohol", "feels", "code-kind", "rule-kind", "per", "over",
    "form", "agree", "leaving", "doing",
    "unread",
)
NAME = re.compile(r"[a-z][a-z0-9]*([_-][a-z0-9]+)*")


class Faults(Exception):
    """Everything that is wrong, a line each."""

    def __init__(self, lines):
        super().__init__("\n".join(lines))
        self.lines = lines


@dataclass(frozen=True)
class Placeholder:
    """What is put into a text: {name} a text, {name:d} a whole number."""

    name: str
    whole_number: bool


@dataclass
class Text:
    """One key. A plain text has the one form "other" and is no plural."""

    group: str
    key: str
    forms: dict
    plural: bool
    about: str = ""
    placeholders: list = field(default_factory=list)

    @property
    def id(self):
        """Its name among a platform's resources."""
        return f"{self.group}_{self.key}".replace("-", "_")


def parts(text):
    """A text as literals and placeholders, in order."""
    found = []
    for literal, name, spec, conversion in Formatter().parse(text):
        if literal:
            found.append(literal)
        if name is not None:
            if not NAME.fullmatch(name) or conversion or spec not in ("", "d"):
                raise ValueError(f"{{{name}{':' + spec if spec else ''}}} is no placeholder: write {{name}} or {{name:d}}")
            found.append(Placeholder(name, spec == "d" or name == "count"))
    return found


def read(path):
    """The texts of one file, by id."""
    try:
        tables = tomllib.loads(path.read_text(encoding="utf-8"))
    except tomllib.TOMLDecodeError as error:
        raise Faults([f"{path.name}: {error}"]) from error
    faults, texts = [], {}
    for group, table in tables.items():
        if not isinstance(table, dict):
            faults.append(f"{path.name}: {group}: a text stands in a table, like [app]")
            continue
        about = table.pop("about", "")
        if not about and path.stem == ENGLISH:
            faults.append(f"{path.name}: [{group}]: about is missing: say where its words stand")
        for key, value in table.items():
            text = Text(group, key, value if isinstance(value, dict) else {"other": value}, isinstance(value, dict), about)
            faults += [f"{path.name}: [{group}] {key}: {fault}" for fault in slips(text, path.stem)]
            if text.id in texts:
                faults.append(f"{path.name}: [{group}] {key}: {text.id} is there twice")
            texts[text.id] = text
    if faults:
        raise Faults(faults)
    return texts


def slips(text, language):
    """What is wrong with one text by itself; its placeholders are found on the way."""
    faults = []
    if not NAME.fullmatch(text.key) or not NAME.fullmatch(text.group):
        faults.append("a key has small letters, figures, _ and - only")
    if text.plural:
        if unknown := sorted(set(text.forms) - set(FORMS)):
            faults.append(f"{', '.join(unknown)}: no plural form")
        wanted = ENGLISH_FORMS if language == ENGLISH else {"other"}
        if missing := sorted(wanted - set(text.forms)):
            faults.append(f"the plural form {', '.join(missing)} is missing")
        if language == ENGLISH and (odd := sorted(set(text.forms) & set(FORMS) - ENGLISH_FORMS)):
            faults.append(f"English has no plural form {', '.join(odd)}")
    found = {}
    for form, words in text.forms.items():
        if not isinstance(words, str) or not words:
            faults.append("a text is words in quotes")
            continue
        if words != words.strip() or "  " in words or "\t" in words:
            faults.append("blanks at an end, or two together, would be lost")
        try:
            for part in parts(words):
                if isinstance(part, Placeholder) and found.setdefault(part.name, part) != part:
                    faults.append(f"{{{part.name}}} is a text here and a number there")
        except ValueError as error:
            faults.append(str(error))
    if text.plural:
        # The count chooses the form, so it is always handed over, and first.
        found = {"count": Placeholder("count", True), **found}
        if "{count}" not in text.forms.get("other", "{count}"):
            faults.append("the plural form other does not tell the {count}")
    elif "count" in found:
        faults.append("a {count} has plural forms: { one = …, other = … }")
    text.placeholders = list(found.values())
    return faults


def languages(folder):
    """All languages, English first: language -> texts by id. The others are held against English."""
    english = read(folder / f"{ENGLISH}.toml")
    found, faults = {ENGLISH: english}, []
    for path in sorted(folder.glob("*.toml")):
        if path.stem == ENGLISH:
            continue
        texts = read(path)
        faults += [f"{path.name}: {missing} is missing" for missing in english.keys() - texts.keys()]
        for id_, text in texts.items():
            original = english.get(id_)
            if original is None:
                faults.append(f"{path.name}: {id_} is not in {ENGLISH}.toml")
            elif text.plural != original.plural:
                faults.append(f"{path.name}: {id_} has plural forms in one language only")
            elif unknown := [it.name for it in text.placeholders if it not in original.placeholders]:
                faults.append(f"{path.name}: {id_}: {', '.join(unknown)}: no such placeholder in {ENGLISH}.toml")
            else:
                text.placeholders = original.placeholders
        found[path.stem] = texts
    if faults:
        raise Faults(sorted(faults))
    return found


# ---- Against what uses them

USED = re.compile(r"\bR\.(?:string|plurals)\.(\w+)|@string/(\w+)")
FUNCTION = r"fn {name}\(&?self\)[^{{]*\{{\n(.*?)\n    \}}\n"
WARNINGS = "photo/warning.rs"


def unused(texts, sources, used=frozenset()):
    """Keys that no source speaks of, and keys that they speak of and that are not there. [error], [purpose] and CHOICES are used whole.
    `used` are keys that are spoken of elsewhere."""
    used = set(used)
    for source in sources:
        used |= {one or other for one, other in USED.findall(source.read_text(encoding="utf-8"))}
    never = [id_ for id_, text in texts.items() if id_ not in used and text.group not in ("error", "purpose", *CHOICES)]
    return [f"{id_} is used nowhere" for id_ in never] + [f"{id_} is used, and is not there" for id_ in sorted(used - texts.keys())]


def core_errors(core):
    """The codes of the core's errors, and every name that an argument of theirs has. Warnings come in the core's own words."""
    codes, arguments = set(), set()
    for path in sorted(core.rglob("*.rs")):
        if path.as_posix().endswith(WARNINGS):
            continue
        text = path.read_text(encoding="utf-8")
        for body in re.findall(FUNCTION.format(name="code"), text, re.S):
            codes |= set(re.findall(r'"([a-z]+(?:-[a-z]+)*)"', body))
        for body in re.findall(FUNCTION.format(name="arguments"), text, re.S):
            arguments |= set(re.findall(r'\("([a-z_]+)",', body))
    return codes, arguments


def errors_without_words(texts, core):
    """Codes of the core that have no sentence, sentences of no code, and placeholders that no error brings."""
    codes, arguments = core_errors(core)
    told = {text.key: text for text in texts.values() if text.group == "error"}
    own = {"unknown"}
    faults = [f"[error] {code} is missing" for code in sorted(codes - told.keys())]
    faults += [f"[error] {code} is no code of the core" for code in sorted(told.keys() - codes - own)]
    for text in told.values():
        brought = arguments | {"code"} if text.key in own else arguments
        faults += [f"[error] {text.key}: no error brings {{{it.name}}}" for it in text.placeholders if it.name not in brought]
    return faults
