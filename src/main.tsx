/** Start: styles, the book, the app. */
import { render } from 'preact'
import { fieldBook } from './state/book.ts'
import { App } from './ui/App.tsx'
import './ui/tokens.css'
import './ui/parts/face.css'
import './ui/parts/ground.css'
import './ui/parts/controls.css'
import './ui/parts/numbers.css'
import './ui/parts/screen.css'
import './ui/plots/plots.css'

const root = document.getElementById('app')
if (root) {
  fieldBook.start()
  void fieldBook.load()
  render(<App />, root)
}
