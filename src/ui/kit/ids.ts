/** Ids and group names of one document. Preact counts them root by root, and the dish at hand of a rehearsal has a root of its own. */
import { createContext } from 'preact'
import { useContext, useId } from 'preact/hooks'

const Root = createContext('')

/** Round what a second root draws: its ids begin with this. */
export const IdsBeginWith = Root.Provider

/** In place of Preact's useId, whose ids are one root's own. */
export const useDocumentId = (): string => useContext(Root) + useId()
