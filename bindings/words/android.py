"""Android's resources: values/strings.xml of each language, and the Kotlin that finds words and figures by the core's ids."""

from xml.sax.saxutils import escape

from source import CHOICES, ENGLISH, Placeholder, parts

HEAD = '<?xml version="1.0" encoding="utf-8"?>\n<!-- Written by bindings/words/generate: change en.toml instead. -->\n'


def quoted(text):
    """A literal as a string resource spells it: https://developer.android.com/guide/topics/resources/string-resource."""
    for plain, spelled in (("\\", "\\\\"), ("'", "\\'"), ('"', '\\"'), ("\n", "\\n")):
        text = text.replace(plain, spelled)
    return escape(text)


def value(words, placeholders):
    """A text with its placeholders as %1$s and %2$d. Where there are none, nothing formats it, and a % is a %."""
    order = {placeholder.name: at for at, placeholder in enumerate(placeholders, 1)}
    spelled = ""
    for part in parts(words):
        if isinstance(part, Placeholder):
            spelled += f"%{order[part.name]}${'d' if part.whole_number else 's'}"
        else:
            spelled += quoted(part.replace("%", "%%") if placeholders else part)
    return "\\" + spelled if spelled[:1] in ("@", "?") else spelled


def strings(texts):
    """values/strings.xml."""
    lines, group = [], None
    for text in texts.values():
        if text.group != group:
            group = text.group
            lines.append(f"    <!-- {escape(text.about or group).replace('--', '- -')} -->")
        if text.plural:
            lines.append(f'    <plurals name="{text.id}">')
            for form, words in text.forms.items():
                lines.append(f'        <item quantity="{form}">{value(words, text.placeholders)}</item>')
            lines.append("    </plurals>")
        else:
            plain = "" if text.placeholders or "%" not in text.forms["other"] else ' formatted="false"'
            lines.append(f'    <string name="{text.id}"{plain}>{value(text.forms["other"], text.placeholders)}</string>')
    return HEAD + "<resources>\n" + "\n".join(lines) + "\n</resources>\n"


def folder(language):
    """The folder of a language's values."""
    return "values" if language == ENGLISH else f"values-{language}"


def kotlin(texts, figures):
    """Kotlin that finds a resource by an id of the core's, which no name at compile time can."""
    errors = [text for text in texts.values() if text.group == "error"]
    said = "\n".join(
        f'        "{text.key}" to Sentence(R.string.{text.id}, listOf({", ".join(f"{chr(34)}{it.name}{chr(34)}" for it in text.placeholders)})),'
        for text in errors
    )
    choices = "\n".join(
        f'        "{group}" to mapOf(\n'
        + "\n".join(f'            "{text.key.replace("_", " ")}" to R.string.{text.id},' for text in texts.values() if text.group == group)
        + "\n        ),"
        for group in CHOICES
    )
    drawn = "\n".join(f'        "{id_}" to R.drawable.{name},' for id_, name in figures)
    return f"""// Written by bindings/words/generate: change en.toml or the figures instead.
package trug.phone.words

import trug.phone.R

/** A sentence, and the names of what is put into it, in order. */
class Sentence(val id: Int, val arguments: List<String>)

/** Resources by the ids that the core speaks of. */
object Ids {{
    /** The sentence of an error's code. */
    val errors: Map<String, Sentence> = mapOf(
{said}
    )

    /** What the core's words are called, by what they are words for. */
    val choices: Map<String, Map<String, Int>> = mapOf(
{choices}
    )

    /** The drawing of a figure. */
    val figures: Map<String, Int> = mapOf(
{drawn}
    )
}}
"""
