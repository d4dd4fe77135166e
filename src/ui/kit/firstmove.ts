/** The caution before a program moves the dish by itself for the first time. */
export const FIRST_MOVE = {
  act: 'first-move',
  gravest: 'First automatic move: somebody at the switch, nobody near the dish.',
  more: [
    'First drive each axis to both limits with the buttons: the limit switches must stop it. Then a few degrees by the program, and watch which way it goes.',
    'Transmitter off until it follows the Moon.',
  ],
} as const
