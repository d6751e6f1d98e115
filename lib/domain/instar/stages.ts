import { type InstarNaming, instarLabel, instarNumber } from './label'

/** More instars than any species has; a list to choose from needs an end. */
const MOST_INSTARS = 10

/** Every stage to choose from, as the workspace names them; the value is its number there, or `adult`. */
export function listStages(naming: InstarNaming): { value: string; label: string }[] {
  const instars = Array.from({ length: MOST_INSTARS }, (_, moults) => ({
    value: String(instarNumber(moults, naming.convention)),
    label: instarLabel(moults, naming),
  }))
  return [...instars, { value: 'adult', label: 'adult' }]
}
