-- CreateEnum
CREATE TYPE "paper_kind" AS ENUM ('permit', 'proof_of_origin', 'crossing', 'health', 'other');

-- CreateTable
CREATE TABLE "paper" (
    "workspace_id" UUID NOT NULL,
    "id" UUID NOT NULL DEFAULT uuidv7(),
    "kind" "paper_kind" NOT NULL,
    "number" TEXT NOT NULL,
    "dated_on" DATE NOT NULL,
    "individual_id" UUID,
    "egg_case_id" UUID,
    "sale_id" UUID,
    "recorded_by" UUID,
    "archived_at" TIMESTAMPTZ(3),
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "paper_pkey" PRIMARY KEY ("workspace_id","id")
);

-- CreateIndex
CREATE INDEX "paper_individual_idx" ON "paper"("workspace_id", "individual_id") WHERE (individual_id IS NOT NULL);

-- CreateIndex
CREATE INDEX "paper_egg_case_idx" ON "paper"("workspace_id", "egg_case_id") WHERE (egg_case_id IS NOT NULL);

-- CreateIndex
CREATE INDEX "paper_sale_idx" ON "paper"("workspace_id", "sale_id") WHERE (sale_id IS NOT NULL);

-- AddForeignKey
ALTER TABLE "paper" ADD CONSTRAINT "paper_individual_fkey" FOREIGN KEY ("workspace_id", "individual_id") REFERENCES "individual"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "paper" ADD CONSTRAINT "paper_egg_case_fkey" FOREIGN KEY ("workspace_id", "egg_case_id") REFERENCES "egg_case"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "paper" ADD CONSTRAINT "paper_sale_fkey" FOREIGN KEY ("workspace_id", "sale_id") REFERENCES "sale"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "paper" ADD CONSTRAINT "paper_recorder_fkey" FOREIGN KEY ("workspace_id", "recorded_by") REFERENCES "membership"("workspace_id", "person_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- Off the audit trail: a number may lead to a person who is forgotten later. Who recorded it and when it was taken back
-- stand in the row.
CALL app.close_table('paper', false);
GRANT SELECT, INSERT, UPDATE ON paper TO oothecary_app;

ALTER TABLE paper ADD CONSTRAINT paper_subject
  CHECK (num_nonnulls(individual_id, egg_case_id) <= 1 AND num_nonnulls(individual_id, egg_case_id, sale_id) >= 1);
