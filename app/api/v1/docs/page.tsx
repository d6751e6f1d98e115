import { PlainFrame } from '@/components/shell/plain-frame'
import { PageHeader } from '@/components/ui/page-header'
import { loadReferencePage } from '@/lib/features/api-reference/loaders'
import { Call } from './_components/call'
import { Manners } from './_components/manners'

export const metadata = { title: 'API reference' }

export default function ReferencePage() {
  const tags = loadReferencePage()
  return (
    <PlainFrame>
      <PageHeader title="API reference" facts="/api/v1 · JSON for tills, web shops, sensors and scripts" />
      <Manners />
      <nav aria-label="Subjects" className="my-6 flex flex-wrap gap-x-5">
        {tags.map(({ tag }) => (
          <a key={tag} href={`#${anchor(tag)}`} className="target inline-flex items-center underline">
            {tag}
          </a>
        ))}
      </nav>
      {tags.map(({ tag, calls }) => (
        <section key={tag} id={anchor(tag)} className="mt-10">
          <h2 className="border-ink border-b-2 pb-1">{tag}</h2>
          {calls.map((call) => (
            <Call key={call.id} call={call} />
          ))}
        </section>
      ))}
    </PlainFrame>
  )
}

function anchor(tag: string): string {
  return tag.toLowerCase().replaceAll(' ', '-')
}
