/** The camera: asked for inside a tap, seen in a `<video>`, its pictures as pixels. Nothing of it is kept. */

/** 'refused' by the person or the system; 'none' here; 'busy' with another program; 'insecure': not given to a page that came by plain http. */
export type NoCamera = 'refused' | 'none' | 'busy' | 'insecure'
export type CameraTold = { kind: 'on'; stream: MediaStream } | { kind: NoCamera }

const WHY: Readonly<Record<string, NoCamera>> = {
  NotAllowedError: 'refused',
  SecurityError: 'refused',
  NotFoundError: 'none',
  OverconstrainedError: 'none',
}

export async function openCamera(): Promise<CameraTold> {
  // A page by plain http has no such property, nor does an old browser.
  if (!globalThis.isSecureContext || !navigator.mediaDevices?.getUserMedia) return { kind: 'insecure' }
  try {
    const stream = await navigator.mediaDevices.getUserMedia({
      audio: false,
      video: { facingMode: { ideal: 'environment' }, width: { ideal: 1920 }, height: { ideal: 1080 } },
    })
    return { kind: 'on', stream }
  } catch (error) {
    return { kind: WHY[(error as Error).name] ?? 'busy' }
  }
}

export function closeCamera(stream: MediaStream): void {
  for (const track of stream.getTracks()) track.stop()
}

/** When the system takes the camera away: a call, another program, the screen off. @returns the way to stop listening */
export function onCameraLost(stream: MediaStream, lost: () => void): () => void {
  const tracks = stream.getTracks()
  for (const track of tracks) track.addEventListener('ended', lost)
  return () => {
    for (const track of tracks) track.removeEventListener('ended', lost)
  }
}

/** More pixels take longer to read than they help. */
const MOST_SIDE = 900

/** The middle of what the camera sees now, square, as pixels; null before the first picture. */
export function pictureOf(video: HTMLVideoElement, canvas: HTMLCanvasElement): ImageData | null {
  const { videoWidth, videoHeight } = video
  const from = Math.min(videoWidth, videoHeight)
  if (from === 0 || video.readyState < HTMLMediaElement.HAVE_CURRENT_DATA) return null
  const side = Math.min(MOST_SIDE, from)
  if (canvas.width !== side) {
    canvas.width = side
    canvas.height = side
  }
  const ink = canvas.getContext('2d', { willReadFrequently: true })
  if (ink === null) return null
  ink.drawImage(video, (videoWidth - from) / 2, (videoHeight - from) / 2, from, from, 0, 0, side, side)
  return ink.getImageData(0, 0, side, side)
}
