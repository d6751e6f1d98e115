-- AlterTable
ALTER TABLE "till" ADD COLUMN "counter_overrides" TEXT[] DEFAULT ARRAY['too-young-for-beginner', 'reserved']::TEXT[],
ADD COLUMN "keeper_overrides" TEXT[] DEFAULT ARRAY['too-young-for-beginner', 'reserved', 'too-young', 'hardening', 'moult-expected', 'quarantine']::TEXT[];

-- CreateTable
CREATE TABLE "clearance" (
    "workspace_id" UUID NOT NULL,
    "id" UUID NOT NULL DEFAULT uuidv7(),
    "individual_id" UUID NOT NULL,
    "on" DATE NOT NULL,
    "codes" TEXT[],
    "reason" TEXT NOT NULL,
    "given_by" UUID,
    "archived_at" TIMESTAMPTZ(3),
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "clearance_pkey" PRIMARY KEY ("workspace_id","id")
);

-- CreateIndex
CREATE INDEX "clearance_individual_idx" ON "clearance"("workspace_id", "individual_id", "on");

-- AddForeignKey
ALTER TABLE "clearance" ADD CONSTRAINT "clearance_individual_fkey" FOREIGN KEY ("workspace_id", "individual_id") REFERENCES "individual"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "clearance" ADD CONSTRAINT "clearance_giver_fkey" FOREIGN KEY ("workspace_id", "given_by") REFERENCES "membership"("workspace_id", "person_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

CALL app.close_table('clearance');
GRANT SELECT, INSERT, UPDATE ON clearance TO oothecary_app;

ALTER TABLE clearance ADD CONSTRAINT clearance_says_something CHECK (cardinality(codes) > 0 AND reason <> '');
