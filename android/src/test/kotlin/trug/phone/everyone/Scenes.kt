package trug.phone.everyone

/** Every page in every state. A new page adds its own. */
internal object Scenes {
    val all: List<Scene> = findScenes + keyScenes + illScenes + patchScenes + mapScenes + searchScenes + yearScenes + shareScenes + receiveScenes + exchangeScenes +
        settingsScenes
}
