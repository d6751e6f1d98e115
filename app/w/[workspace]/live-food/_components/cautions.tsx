import type { ReactNode } from 'react'

/** What can hurt those who keep the flies, where the work is done and not in small print. */
export function FlyCautions() {
  return (
    <Cautions title="For whoever keeps the flies">
      <li>
        Gloves, a mask where there is frass dust, and an open window: many who rear insects for years become
        allergic. Wheeze, itching eyes or a rash: stop, and ask a doctor.
      </li>
      <li>Fly medium is kept from mould by acids. Keep it off skin and out of eyes; wash what it touched.</li>
      <li>No rearing where somebody sleeps. Wash hands after flies and maggots; children with an adult.</li>
      <li>
        Heat only by a thermostat outside the jars, behind a residual-current device; spray no electrics.
      </li>
    </Cautions>
  )
}

/** Beside whatever throws a jar out. */
export function DiscardCautions() {
  return (
    <Cautions title="Before it goes into the bin">
      <li>Freeze it for at least 48 hours at −18 °C. Never release feeder insects.</li>
      <li>Open a mouldy jar outdoors only, with a mask, or not at all.</li>
    </Cautions>
  )
}

function Cautions({ title, children }: { title: string; children: ReactNode }) {
  return (
    <section aria-label={title} className="max-w-2xl border-hush border-s-4 bg-sheet px-4 py-3 text-small">
      <p className="font-semibold">{title}</p>
      <ul className="mt-1 list-disc space-y-1 ps-5 text-soft">{children}</ul>
    </section>
  )
}
