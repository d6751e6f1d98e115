import { type InstarNaming, instarLabel, instarShortLabel } from '../instar/label'

/** A line of an order as it is stored. */
export type DescribedLine = {
  scientificName: string
  sex: 'male' | 'female' | 'any'
  takes: 'nymph' | 'adult' | 'either'
  fromMoults: number
  untilMoults: number | null
}

/** "Hymenopus coronatus, 4th to 5th instar, female". */
export function describeLine(line: DescribedLine, naming: InstarNaming): string {
  const sex = line.sex === 'any' ? 'either sex' : line.sex
  return [line.scientificName, sayStage(line, naming), sex].join(', ')
}

function sayStage({ takes, fromMoults, untilMoults }: DescribedLine, naming: InstarNaming): string {
  if (takes === 'adult') return 'adult'
  const from = instarLabel(fromMoults, naming)
  if (untilMoults === null)
    return takes === 'nymph'
      ? `nymph from the ${from} on`
      : fromMoults === 0
        ? 'any stage'
        : `from the ${from} on`
  const until = instarLabel(untilMoults, naming)
  const nymph = fromMoults === untilMoults ? until : `${instarShortLabel(fromMoults, naming)} to ${until}`
  return takes === 'either' ? `${nymph} or adult` : nymph
}
