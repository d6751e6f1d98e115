-- CreateEnum
CREATE TYPE "buyer_experience" AS ENUM ('unknown', 'beginner', 'experienced');

-- AlterTable
ALTER TABLE "sale" ADD COLUMN     "buyer_id" UUID;

-- CreateTable
CREATE TABLE "buyer" (
    "workspace_id" UUID NOT NULL,
    "id" UUID NOT NULL DEFAULT uuidv7(),
    "country" TEXT NOT NULL DEFAULT '',
    "experience" "buyer_experience" NOT NULL DEFAULT 'unknown',
    "keep_consent_on" DATE,
    "news_consent_on" DATE,
    "changed_fields" TEXT[],
    "erasure_asked_on" DATE,
    "erased_on" DATE,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "buyer_pkey" PRIMARY KEY ("workspace_id","id")
);

-- CreateTable
CREATE TABLE "buyer_person" (
    "workspace_id" UUID NOT NULL,
    "buyer_id" UUID NOT NULL,
    "name" TEXT NOT NULL DEFAULT '',
    "email" TEXT NOT NULL DEFAULT '',
    "phone" TEXT NOT NULL DEFAULT '',
    "address" TEXT NOT NULL DEFAULT '',
    "note" TEXT NOT NULL DEFAULT '',

    CONSTRAINT "buyer_person_pkey" PRIMARY KEY ("workspace_id","buyer_id")
);

-- CreateTable
CREATE TABLE "till" (
    "workspace_id" UUID NOT NULL,
    "prices_include_tax" BOOLEAN NOT NULL DEFAULT true,
    "retention_years" INTEGER NOT NULL DEFAULT 0,
    "receipt_words" TEXT NOT NULL DEFAULT '',
    "certified_till" BOOLEAN NOT NULL DEFAULT false,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "till_pkey" PRIMARY KEY ("workspace_id")
);

-- CreateIndex
CREATE INDEX "sale_buyer_idx" ON "sale"("workspace_id", "buyer_id", "on") WHERE (buyer_id IS NOT NULL);

-- AddForeignKey
ALTER TABLE "buyer" ADD CONSTRAINT "buyer_workspace_fkey" FOREIGN KEY ("workspace_id") REFERENCES "workspace"("workspace_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "buyer_person" ADD CONSTRAINT "buyer_person_buyer_fkey" FOREIGN KEY ("workspace_id", "buyer_id") REFERENCES "buyer"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- Receipts already written are looked at past the row-level security that holds the owner too.
ALTER TABLE "sale" NO FORCE ROW LEVEL SECURITY;
-- AddForeignKey
ALTER TABLE "sale" ADD CONSTRAINT "sale_buyer_fkey" FOREIGN KEY ("workspace_id", "buyer_id") REFERENCES "buyer"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;
ALTER TABLE "sale" FORCE ROW LEVEL SECURITY;


-- AddForeignKey
ALTER TABLE "till" ADD CONSTRAINT "till_workspace_fkey" FOREIGN KEY ("workspace_id") REFERENCES "workspace"("workspace_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- The person behind a buyer is on no trail: of what is personal the trail keeps only that it changed (changed_fields).
CALL app.close_table('buyer');
CALL app.close_table('buyer_person', false);
CALL app.close_table('till');
GRANT SELECT, INSERT, UPDATE ON buyer, buyer_person, till TO oothecary_app;

ALTER TABLE buyer
  ADD CONSTRAINT buyer_country CHECK (country ~ '^([A-Z]{2})?$'),
  ADD CONSTRAINT buyer_erasure CHECK (erased_on IS NULL OR erased_on >= erasure_asked_on);
ALTER TABLE till ADD CONSTRAINT till_retention CHECK (retention_years BETWEEN 0 AND 30);

-- ── Work for a later day, asked for in the transaction that makes it necessary ────────────────────
CREATE FUNCTION app.enqueue_at(task text, payload jsonb, due timestamptz) RETURNS void LANGUAGE plpgsql
SECURITY DEFINER SET search_path = pg_catalog AS $$
BEGIN
  PERFORM graphile_worker.add_job(task, (payload || jsonb_build_object('workspaceId', app.workspace()))::json,
    run_at := due);
END $$;
GRANT CREATE ON SCHEMA app TO oothecary_jobs;
ALTER FUNCTION app.enqueue_at(text, jsonb, timestamptz) OWNER TO oothecary_jobs;
REVOKE CREATE ON SCHEMA app FROM oothecary_jobs;
GRANT EXECUTE ON FUNCTION app.enqueue_at(text, jsonb, timestamptz) TO oothecary_app;
