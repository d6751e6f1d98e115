import { CopyButton } from '@/components/ui/copy-button'
import { PageHeader } from '@/components/ui/page-header'
import { StateMark } from '@/components/ui/state-mark'
import { writeDay } from '@/lib/domain/calendar/wording'
import { loadHandOversPage, type HandOversPage as Page } from '@/lib/features/hand-over/loaders'
import { TakeAnimalsOver } from './_components/take-animals-over'
import { WithdrawOffer } from './_components/withdraw-offer'

export const metadata = { title: 'Hand-overs' }

export default async function HandOversPage({ params }: { params: Promise<{ workspace: string }> }) {
  const { workspace } = await params
  const page = await loadHandOversPage(workspace)
  return (
    <>
      <PageHeader
        title="Hand-overs"
        parent={{ href: `/w/${workspace}/individuals`, label: 'Animals' }}
        facts="Animals that move between breeders and shops, with their records"
      />
      <section aria-labelledby="take" className="mt-4">
        <h2 id="take">Take animals over</h2>
        <p className="mt-1 mb-4 max-w-xl text-small text-soft">
          With the code you were given. They leave the other side’s records at the same moment, and arrive
          here with what was known of them, their papers and up to ten photos of each: both registers say
          where they went and where they came from.
        </p>
        <TakeAnimalsOver workspace={workspace} page={page} />
      </section>
      <section aria-labelledby="offered" className="mt-10 max-w-3xl">
        <h2 id="offered">Offered by us</h2>
        {page.offers.length === 0 ? (
          <p className="mt-1 text-soft">
            Nothing is offered. Tick animals in the list of animals and choose “Hand over”.
          </p>
        ) : (
          <ul className="mt-2 divide-y divide-line border-line border-y">
            {page.offers.map((offer) => (
              <Offer key={offer.id} workspace={workspace} offer={offer} today={page.today} />
            ))}
          </ul>
        )}
      </section>
    </>
  )
}

type OfferProps = { workspace: string; offer: Page['offers'][number]; today: string }

function Offer({ workspace, offer, today }: OfferProps) {
  const { id, version, animals, code, toName, note, offeredOn, acceptedOn, withdrawnOn, taken } = offer
  const here = animals.filter(({ isHere }) => isHere).length
  return (
    <li className="space-y-2 py-4">
      <p className="font-semibold">
        {animals.length} {animals.length === 1 ? 'animal' : 'animals'}
        {toName ? ` for ${toName}` : ''}, offered {writeDay(offeredOn, today)}
      </p>
      <p className="text-small tabular-nums">{animals.map(({ label }) => label).join(', ')}</p>
      {note ? <p className="text-small text-soft">{note}</p> : null}
      {acceptedOn ? (
        <StateMark state="fine" word={`${taken} taken over ${writeDay(acceptedOn, today)}`} />
      ) : withdrawnOn ? (
        <p className="text-small text-soft">withdrawn {writeDay(withdrawnOn, today)}</p>
      ) : (
        <>
          {here < animals.length ? (
            <p className="text-small">Only {here} of them are still here: the others are left out.</p>
          ) : null}
          <p className="break-all border border-line bg-sheet px-3 py-2 font-mono text-small">{code}</p>
          <div className="flex flex-wrap gap-2">
            <CopyButton text={code ?? ''} label="Copy the code" />
            <WithdrawOffer workspace={workspace} input={{ id, version }} />
          </div>
          <p className="text-small text-soft">
            Whoever has this code can take the animals over. Give it to nobody else.
          </p>
        </>
      )}
    </li>
  )
}
