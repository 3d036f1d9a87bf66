// What keeps a screen lit while both hands are busy, and what reads aloud. A browser that has neither goes without.

/** Keep the screen awake until it is let go. */
export function keepAwake() {
  /** @type {WakeLockSentinel | null} */
  let lock = null;
  let wanted = true;
  const ask = async () => {
    if (!wanted || document.visibilityState !== "visible" || !("wakeLock" in navigator)) return;
    try {
      lock = await navigator.wakeLock.request("screen");
      if (!wanted) lock.release();
    } catch {
      // A flat battery, or a browser that refuses: the screen goes dark as ever.
    }
  };
  document.addEventListener("visibilitychange", ask);
  ask();
  return {
    letGo() {
      wanted = false;
      document.removeEventListener("visibilitychange", ask);
      lock?.release().catch(() => {});
    },
  };
}

/** Say a text aloud, in place of what is being said. @param {string} text */
export function speakAloud(text) {
  if (!("speechSynthesis" in window)) return;
  speechSynthesis.cancel();
  const words = new SpeechSynthesisUtterance(text);
  words.lang = document.documentElement.lang || "en";
  speechSynthesis.speak(words);
}

export const canSpeak = "speechSynthesis" in window;
