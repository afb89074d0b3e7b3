package trug.phone.draw

import android.content.Context
import android.content.res.ColorStateList
import android.graphics.Color
import android.graphics.ColorFilter
import android.graphics.LightingColorFilter
import android.graphics.Typeface
import android.graphics.drawable.Drawable
import android.graphics.drawable.GradientDrawable
import android.graphics.drawable.RippleDrawable
import android.os.Build
import android.util.TypedValue
import android.view.Gravity
import android.view.View
import android.view.ViewGroup
import android.widget.EditText
import android.widget.LinearLayout
import android.widget.TextView

/** What pages are printed with: two sizes of type, rules, and one colour for what can be touched. */
internal class Ink(
    val context: Context,
    /** Whether it is a left thumb that touches: what stands at the end for a right one stands at the start. */
    val leftHanded: Boolean = false,
) {
    val text = colour(android.R.attr.textColorPrimary)
    val quiet = colour(android.R.attr.textColorSecondary)
    val touch = colour(android.R.attr.colorAccent)
    val paper = colour(android.R.attr.colorBackground)

    /** What pictures are seen through: nothing, but red light for night. */
    val glass: ColorFilter? = if (isRed(paper, text)) LightingColorFilter(RED, 0) else null

    /** Whether type is set so large that two words hardly stand side by side. */
    val largeType = context.resources.configuration.fontScale >= LARGE

    fun dp(value: Int): Int = (value * context.resources.displayMetrics.density + HALF).toInt()

    fun words(words: CharSequence, size: Float = READING, bold: Boolean = false, colour: Int = text) = TextView(context).apply {
        text = words
        setTextSize(TypedValue.COMPLEX_UNIT_SP, size)
        setTextColor(colour)
        if (bold) typeface = Typeface.DEFAULT_BOLD
        setLineSpacing(0f, LINES)
    }

    fun head(words: CharSequence) = words(words, HEAD, bold = true).apply {
        if (Build.VERSION.SDK_INT >= Build.VERSION_CODES.P) isAccessibilityHeading = true
    }

    /** Words that can be touched, as wide as they are given room. */
    fun button(words: CharSequence, filled: Boolean = false, touched: () -> Unit) =
        words(words, bold = filled, colour = if (filled) paper else touch).apply {
            gravity = Gravity.CENTER
            minHeight = dp(TARGET)
            setPadding(dp(GAP), dp(GAP), dp(GAP), dp(GAP))
            background = touchable(if (filled) touch else null, touch)
            onTouch(touched)
        }

    /** Words that can be touched, without a frame. */
    fun plain(words: CharSequence, touched: () -> Unit) = button(words, touched = touched).apply { background = touchable(null, null) }

    /** The page's one next thing to do, as large as a gloved thumb. */
    fun thumb(words: CharSequence, touched: () -> Unit) = button(words, filled = true, touched = touched).apply { minHeight = dp(THUMB) }

    /** A frame that shows a touch. */
    fun touchable(fill: Int?, line: Int?, width: Int = 1): Drawable {
        val frame = GradientDrawable().apply {
            setColor(fill ?: paper)
            if (line != null) setStroke(dp(width), line)
            cornerRadius = dp(2).toFloat()
        }
        return RippleDrawable(ColorStateList.valueOf(quiet and FAINT), frame, null)
    }

    /** The black edge of a band: danger, and what is to be left, look the same in every theme. */
    fun edge(): Drawable = touchable(null, text, EDGE)

    /** Shows that a button holds. */
    fun press(button: TextView) {
        button.background = touchable(null, text, PRESSED)
        button.typeface = Typeface.DEFAULT_BOLD
        button.isSelected = true
    }

    /** A field to type into, in the type of the page. */
    fun print(field: EditText) {
        field.setTextSize(TypedValue.COMPLEX_UNIT_SP, HEAD)
        field.setTextColor(text)
        field.setHintTextColor(quiet)
        field.minHeight = dp(TARGET)
        field.isSingleLine = true
        wrap(field)
    }

    /** In large type, and on a narrow screen, the hint of a field, which says what belongs there, goes on below rather than out of sight. */
    fun wrap(field: EditText) {
        if (!largeType && context.resources.configuration.screenWidthDp >= NARROW) return
        field.setHorizontallyScrolling(false)
        field.maxLines = HINT_LINES
    }

    fun latin(name: String) = words(name, colour = quiet).apply { setTypeface(null, Typeface.ITALIC) }

    fun rule() = View(context).apply {
        setBackgroundColor(quiet)
        tag = RULE
    }

    fun line(above: Int) = across(above).apply { height = dp(1) }

    fun column(vararg children: View?) = LinearLayout(context).apply {
        orientation = LinearLayout.VERTICAL
        children.forEach { if (it != null) addView(it, across()) }
    }

    /** Side by side, equally wide and equally high; in large type below each other. */
    fun beside(vararg children: View?) = if (largeType) below(*children) else LinearLayout(context).apply {
        orientation = LinearLayout.HORIZONTAL
        isBaselineAligned = false
        children.filterNotNull().forEachIndexed { at, child ->
            val room = LinearLayout.LayoutParams(0, ViewGroup.LayoutParams.MATCH_PARENT, 1f)
            if (at > 0) room.marginStart = dp(GAP)
            addView(child, room)
        }
    }

    private fun below(vararg children: View?) = column().apply {
        children.filterNotNull().forEachIndexed { at, child -> addView(child, across(if (at == 0) 0 else GAP)) }
    }

    /** What is read, and beside it on the thumb's side what is touched; in large type below it. */
    fun atThumb(read: View, weight: Float, vararg touched: View) = LinearLayout(context).apply {
        gravity = Gravity.CENTER_VERTICAL or (if (leftHanded) Gravity.START else Gravity.END)
        touched.forEach { addView(it) }
        if (largeType) return column(read, this)
        val room = LinearLayout.LayoutParams(0, ViewGroup.LayoutParams.WRAP_CONTENT, weight)
        if (leftHanded) addView(read, room.apply { marginStart = dp(GAP) }) else addView(read, 0, room.apply { marginEnd = dp(GAP) })
    }

    /** A heading within a page, below a rule. */
    fun part(words: CharSequence) = words(words, bold = true).apply {
        if (Build.VERSION.SDK_INT >= Build.VERSION_CODES.P) isAccessibilityHeading = true
    }

    fun across(above: Int = 0) = LinearLayout.LayoutParams(ViewGroup.LayoutParams.MATCH_PARENT, ViewGroup.LayoutParams.WRAP_CONTENT)
        .apply { topMargin = dp(above) }

    private fun colour(attribute: Int): Int {
        val value = TypedValue()
        context.theme.resolveAttribute(attribute, value, true)
        return if (value.resourceId != 0) context.getColorStateList(value.resourceId).defaultColor else value.data
    }

    private fun isRed(paper: Int, text: Int) = Color.blue(text) < Color.red(text) / 2 && paper == Color.BLACK

    companion object {
        const val READING = 18f
        const val HEAD = 24f
        const val TARGET = 56
        const val THUMB = 72
        const val GAP = 8
        const val MARGIN = 16
        const val RULE = "rule"
        private const val RED = 0xFF0000
        private const val EDGE = 3
        private const val PRESSED = 4
        private const val LINES = 1.1f
        private const val LARGE = 1.6f
        private const val HINT_LINES = 4
        private const val NARROW = 360
        private const val HALF = 0.5f
        private const val FAINT = 0x33FFFFFF
    }
}
