/**
 * A short tone and a short buzz, where the phone has them. A page may sound only after a tap, so the sound is prepared in one.
 * Never the only sign of anything: a phone may be muted.
 */

let context: AudioContext | null = null

/** In a tap. */
export function readySound(): void {
  try {
    context ??= new AudioContext()
    void context.resume()
  } catch {
    context = null // no sound here
  }
}

/** @param hz  880 for what is done, 440 for what went wrong */
export function tone(hz: number, ms = 120): void {
  if (context?.state !== 'running') return
  const t = context.currentTime
  const oscillator = context.createOscillator()
  const gain = context.createGain()
  oscillator.frequency.value = hz
  // Without a ramp it clicks.
  gain.gain.setValueAtTime(0, t)
  gain.gain.linearRampToValueAtTime(0.4, t + 0.01)
  gain.gain.linearRampToValueAtTime(0, t + ms / 1000)
  oscillator.connect(gain).connect(context.destination)
  oscillator.start(t)
  oscillator.stop(t + ms / 1000)
}

/** False where there is nothing that buzzes. */
export function buzz(ms: number | number[]): boolean {
  try {
    return typeof navigator.vibrate === 'function' && navigator.vibrate(ms)
  } catch {
    return false
  }
}
