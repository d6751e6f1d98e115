import { messagesIn } from '@/lib/messages/catalogue'
import { joined, must, type Section, useful } from './parts'
import type { CareSheetPayload } from './payload'

/** The boxes that stand where people see them, not in small print. The law is named by kind and left to the authority. */
export function cautionBoxes(payload: CareSheetPayload): Section[] {
  const say = messagesIn(payload.language, 'careSheet')
  const isMantis = payload.species.kind === 'mantis'
  return joined([
    isMantis && { heading: say('kills'), sentences: [must(say('killsText'))] },
    {
      heading: say('forYou'),
      sentences: joined([must(say('forYouText')), isMantis && useful(say('pinch'))]),
    },
    { heading: say('electric'), sentences: [must(say('electricText'))] },
    {
      heading: say('outdoors'),
      sentences: joined([
        must(say('outdoorsText')),
        must(say('law')),
        payload.species.legalNote === 'proof-of-origin' && must(say('lawProof')),
      ]),
    },
  ])
}
