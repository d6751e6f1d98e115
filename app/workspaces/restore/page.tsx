import { SignInAgainProvider } from '@/components/session/sign-in-again-provider'
import { PlainFrame } from '@/components/shell/plain-frame'
import { PageHeader } from '@/components/ui/page-header'
import { requireSignedIn } from '@/lib/features/person/loaders'
import { RestoreForm } from './_components/restore-form'

export const metadata = { title: 'A workspace from a file' }

export default async function RestorePage() {
  const person = await requireSignedIn('/workspaces/restore')
  return (
    <PlainFrame>
      <SignInAgainProvider email={person.email}>
        <PageHeader
          title="A workspace from a file"
          facts="The file that “Download everything” makes becomes a workspace of yours: all of it, or nothing."
          parent={{ href: '/', label: 'Your workspaces' }}
        />
        <RestoreForm />
        <section className="mt-10 max-w-xl border-line border-t pt-6">
          <h2>What does not come along</h2>
          <ul className="mt-2 list-disc space-y-1 ps-5 text-small">
            <li>People: whoever is named in the records stays named, but you invite them anew.</li>
            <li>
              Tokens, invitations, calendar addresses and printed codes of public pages: they open the
              workspace the file was made from, if it is still there. Print care sheets anew.
            </li>
            <li>
              Who is called when a zone is too warm or too cold, and who gets the mail of the day: say so
              again.
            </li>
            <li>Mails and the trail of what was done: both can be read in the file.</li>
          </ul>
        </section>
      </SignInAgainProvider>
    </PlainFrame>
  )
}
