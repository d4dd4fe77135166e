/** Start: styles, the book, the app. */
import { render } from 'preact'
import { fieldBook } from './state/book.ts'
import { App } from './ui/App.tsx'
import './ui/parts/face.css'

const root = document.getElementById('app')
if (root) {
  fieldBook.start()
  void fieldBook.load()
  render(<App />, root)
}
