/** Why the phone's tilt is not there, and what to do about it. */
import type { AttitudeState } from '../../state/level.ts'

/** Where the sensors are silent or disagree: what happened and what to do. Null where all is well. */
export function attitudeWords(state: AttitudeState): { stop: boolean; text: string } | null {
  switch (state) {
    case 'delivering':
    case 'silent':
      return null
    case 'starting':
      return { stop: false, text: 'Waiting for the sensors…' }
    case 'not-asked':
      return {
        stop: false,
        text: 'The phone asks you first whether this page may use its sensors. They show which way is down, and nothing leaves the phone.',
      }
    case 'denied':
      return {
        stop: true,
        text: 'The phone does not let this page use its sensors. Allow motion sensors in the browser’s settings for this page; where there is no such setting, as on an iPhone, close Moonplumb, open it again and answer “Allow”. Or type what an inclinometer shows.',
      }
    case 'absent':
      return {
        stop: true,
        text: 'No sensor has answered. The page must be open over https; if it is, this machine has none, or the browser hides them. Type what an inclinometer shows.',
      }
    case 'null-events':
      return { stop: true, text: 'This phone reports no tilt sensor. Type what an inclinometer shows.' }
    case 'hidden':
      return { stop: false, text: 'The page is hidden, and hidden pages get no sensors.' }
    case 'stale':
      return { stop: false, text: 'Nothing from the sensors since the page came back. Tilt the phone a little.' }
    case 'disagree':
      return {
        stop: true,
        text: 'The phone’s two sensors are more than 5° apart, so neither is used. Keep it still for some seconds and away from motors; if it stays like this, reload the page.',
      }
    case 'sign-unknown':
      return {
        stop: false,
        text: 'This phone shows acceleration only, and not yet which way it counts. Lay it on its back once, screen up, and press the button.',
      }
  }
}
