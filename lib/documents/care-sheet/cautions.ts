import { lawSentences } from './law'
import { joined, must, type Section, useful } from './parts'
import type { Speaker } from './speaker'

/** The boxes that stand where people see them, not in small print. The law is named by kind and left to the authority. */
export function cautionBoxes(speaker: Speaker): Section[] {
  const { say, isMantis } = speaker
  return [
    isMantis
      ? { heading: say('kills'), sentences: [must(say('killsText'))] }
      : { heading: say('killsOther'), sentences: [must(say('killsOtherText'))] },
    {
      heading: say('forYou'),
      sentences: joined([must(say('forYouText')), isMantis ? useful(say('pinch')) : must(say('touchOther'))]),
    },
    { heading: say('electric'), sentences: [must(say('electricText'))] },
    { heading: say('outdoors'), sentences: [must(say('outdoorsText')), ...lawSentences(speaker)] },
  ]
}
