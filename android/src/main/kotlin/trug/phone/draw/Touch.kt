package trug.phone.draw

import android.view.View
import android.view.accessibility.AccessibilityNodeInfo
import android.widget.Button

/** Can be touched, reached by keys, and is called a button by a screen reader. */
internal fun View.onTouch(touched: () -> Unit) {
    isClickable = true
    isFocusable = true
    setOnClickListener { touched() }
    accessibilityDelegate = ButtonRole
}

private object ButtonRole : View.AccessibilityDelegate() {
    override fun onInitializeAccessibilityNodeInfo(host: View, info: AccessibilityNodeInfo) {
        super.onInitializeAccessibilityNodeInfo(host, info)
        info.className = Button::class.java.name
    }
}
