import de from './de.json'
import en from './en.json'
import es from './es.json'
import fr from './fr.json'
import type { Language } from './language'
import { formatMessage, type MessageValues } from './message'
import nl from './nl.json'

/** Every language has the shape of the English file; a missing text is a type error and a failing test. */
export type Catalogue = typeof en

export type MessageGroup = keyof Catalogue
export type MessageKey<Group extends MessageGroup> = keyof Catalogue[Group] & string

const CATALOGUES: Readonly<Record<Language, Catalogue>> = { en, de, fr, es, nl }

export function getCatalogue(language: Language): Catalogue {
  return CATALOGUES[language]
}

export type Say<Group extends MessageGroup> = (key: MessageKey<Group>, values?: MessageValues) => string

/** The messages of one group in one language, ready to be filled: `say('windowBetween', { from, to })`. */
export function messagesIn<Group extends MessageGroup>(language: Language, group: Group): Say<Group> {
  const messages: Readonly<Record<string, string>> = CATALOGUES[language][group]
  return (key, values = {}) => {
    const message = messages[key]
    if (message === undefined) throw new Error(`no message ${group}.${key} in ${language}`)
    return formatMessage(message, values, language)
  }
}
