/** "Will it reach?", under Now: which of its screens the address means. No station is needed. */
import { ReachMountForm, ReachPlaceForm, ReachSkyForm } from '../reach/ReachForms.tsx'
import { ReachHome } from '../reach/ReachHome.tsx'
import '../reach/reach.css'

export function ReachPlace({ parts }: { parts: readonly string[] }) {
  const [what] = parts
  switch (what) {
    case 'place':
      return <ReachPlaceForm />
    case 'sky':
      return <ReachSkyForm />
    case 'a':
      return <ReachMountForm key="a" which="a" />
    case 'b':
      return <ReachMountForm key="b" which="b" />
    default:
      return <ReachHome />
  }
}
