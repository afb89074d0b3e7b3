"""Apple's string catalogue: one file for all languages."""

import json

from source import ENGLISH, Placeholder, parts


def value(words, placeholders):
    """A text with its placeholders as %1$@ and %2$lld."""
    order = {placeholder.name: at for at, placeholder in enumerate(placeholders, 1)}
    spelled = ""
    for part in parts(words):
        if isinstance(part, Placeholder):
            spelled += f"%{order[part.name]}${'lld' if part.whole_number else '@'}"
        else:
            spelled += part.replace("%", "%%") if placeholders else part
    return spelled


def unit(words, placeholders):
    """One text of the catalogue."""
    return {"stringUnit": {"state": "translated", "value": value(words, placeholders)}}


def localisation(text):
    """One key in one language."""
    if not text.plural:
        return unit(text.forms["other"], text.placeholders)
    return {"variations": {"plural": {form: unit(words, text.placeholders) for form, words in text.forms.items()}}}


def catalogue(languages):
    """Localizable.xcstrings."""
    found = {
        id_: {
            "comment": text.about,
            "extractionState": "manual",
            "localizations": {language: localisation(texts[id_]) for language, texts in languages.items()},
        }
        for id_, text in languages[ENGLISH].items()
    }
    return json.dumps({"sourceLanguage": ENGLISH, "strings": found, "version": "1.0"}, ensure_ascii=False, indent=2, sort_keys=True) + "\n"
