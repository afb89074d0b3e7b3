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


# What the system says when it asks the owner, by the key of Info.plist: https://developer.apple.com/documentation/bundleresources.
PURPOSES = {"NSCameraUsageDescription": "purpose_camera", "NSLocationWhenInUseUsageDescription": "purpose_position"}


def purposes(languages):
    """InfoPlist.xcstrings."""
    found = {
        key: {
            "comment": languages[ENGLISH][id_].about,
            "extractionState": "manual",
            "localizations": {language: localisation(texts[id_]) for language, texts in languages.items()},
        }
        for key, id_ in PURPOSES.items()
    }
    return written(found)


def written(strings):
    """A catalogue as JSON."""
    catalogue = {"sourceLanguage": ENGLISH, "strings": strings, "version": "1.0"}
    return json.dumps(catalogue, ensure_ascii=False, indent=2, sort_keys=True) + "\n"


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
    return written(found)
