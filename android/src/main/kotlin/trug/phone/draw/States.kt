package trug.phone.draw

import android.content.res.ColorStateList
import android.graphics.Typeface
import android.view.Gravity
import android.view.View
import android.view.ViewGroup
import android.view.accessibility.AccessibilityNodeInfo
import android.widget.CheckBox
import android.widget.Checkable
import android.widget.ImageView
import android.widget.LinearLayout
import android.widget.Space
import trug.core.StateOffered
import trug.phone.R
import trug.phone.words.Ids

/** A state that can be seen: its line figure, if it has one, and its name. */
internal class State(private val ink: Ink, val offered: StateOffered, inGrid: Boolean, described: String = offered.label, touched: () -> Unit) :
    LinearLayout(ink.context), Checkable {
    private val label = ink.words(offered.label)
    private var chosen = false

    init {
        orientation = if (inGrid) VERTICAL else HORIZONTAL
        gravity = if (inGrid) Gravity.CENTER else Gravity.CENTER_VERTICAL or Gravity.START
        minimumHeight = ink.dp(Ink.TARGET)
        val pad = ink.dp(Ink.GAP)
        setPadding(pad, pad, pad, pad)
        Ids.figures[offered.figure]?.let { figure ->
            val drawn = ImageView(context).apply {
                setImageResource(figure)
                imageTintList = ColorStateList.valueOf(ink.text)
                importantForAccessibility = View.IMPORTANT_FOR_ACCESSIBILITY_NO
            }
            addView(drawn, LayoutParams(ink.dp(FIGURE), ink.dp(FIGURE)))
        }
        label.gravity = if (inGrid) Gravity.CENTER else Gravity.START
        label.importantForAccessibility = View.IMPORTANT_FOR_ACCESSIBILITY_NO
        val room = LayoutParams(ViewGroup.LayoutParams.WRAP_CONTENT, ViewGroup.LayoutParams.WRAP_CONTENT)
        if (!inGrid) room.marginStart = pad
        addView(label, room)
        contentDescription = described
        isClickable = true
        isFocusable = true
        setOnClickListener { touched() }
        isChecked = offered.chosen
        draw()
    }

    override fun isChecked() = chosen

    override fun toggle() {
        isChecked = !chosen
    }

    override fun setChecked(checked: Boolean) {
        if (checked == chosen) return
        chosen = checked
        draw()
    }

    private fun draw() {
        background = ink.touchable(null, if (chosen) ink.text else ink.touch, if (chosen) CHOSEN else 1)
        label.typeface = if (chosen) Typeface.DEFAULT_BOLD else Typeface.DEFAULT
    }

    override fun onInitializeAccessibilityNodeInfo(info: AccessibilityNodeInfo) {
        super.onInitializeAccessibilityNodeInfo(info)
        info.className = CheckBox::class.java.name
        info.isCheckable = true
        info.isChecked = chosen
    }

    private companion object {
        const val FIGURE = 64
        const val CHOSEN = 4
    }
}

/** The states of one character, two side by side. What they are states [of] is said with each where a page has several such lists. */
internal class States(ink: Ink, offered: List<StateOffered>, of: String? = null, touched: (String) -> Unit) : LinearLayout(ink.context) {
    private val cells: List<State>

    init {
        orientation = VERTICAL
        val drawn = offered.any { it.figure != null }
        val columns = if (ink.largeType) 1 else COLUMNS
        cells = offered.map { state ->
            val described = if (of == null) state.label else ink.context.getString(R.string.app_choice_of, of, state.label)
            State(ink, state, drawn, described) { touched(state.id) }
        }
        cells.chunked(columns).forEachIndexed { row, inRow ->
            val padded: List<View> = inRow + List(columns - inRow.size) { Space(context) }
            addView(ink.beside(*padded.toTypedArray()), ink.across(if (row == 0) 0 else Ink.GAP))
        }
    }

    /** Shows which are chosen. */
    fun choose(ids: Set<String>) = cells.forEach { it.isChecked = it.offered.id in ids }

    private companion object {
        const val COLUMNS = 2
    }
}
