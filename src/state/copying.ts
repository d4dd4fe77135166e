/** Copying for the screens: a text made before the tap goes to the clipboard inside it. */
export { copyText } from '../device/share.ts'
