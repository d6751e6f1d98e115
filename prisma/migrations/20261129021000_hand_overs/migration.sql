-- CreateTable
CREATE TABLE "hand_over" (
    "workspace_id" UUID NOT NULL,
    "id" UUID NOT NULL DEFAULT uuidv7(),
    "to_name" TEXT NOT NULL DEFAULT '',
    "note" TEXT NOT NULL DEFAULT '',
    "offered_on" DATE NOT NULL,
    "withdrawn_on" DATE,
    "accepted_on" DATE,
    "claim" UUID,
    "content" JSONB,
    "made_by" UUID,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "hand_over_pkey" PRIMARY KEY ("workspace_id","id")
);

-- CreateTable
CREATE TABLE "hand_over_animal" (
    "workspace_id" UUID NOT NULL,
    "hand_over_id" UUID NOT NULL,
    "individual_id" UUID NOT NULL,
    "entry_id" UUID,

    CONSTRAINT "hand_over_animal_pkey" PRIMARY KEY ("workspace_id","hand_over_id","individual_id")
);

-- CreateTable
CREATE TABLE "taken_over" (
    "workspace_id" UUID NOT NULL,
    "individual_id" UUID NOT NULL,
    "origin" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "from_name" TEXT NOT NULL,
    "record" JSONB NOT NULL,

    CONSTRAINT "taken_over_pkey" PRIMARY KEY ("workspace_id","individual_id")
);

-- CreateIndex
CREATE INDEX "hand_over_animal_individual_idx" ON "hand_over_animal"("workspace_id", "individual_id");

-- CreateIndex
CREATE UNIQUE INDEX "taken_over_once" ON "taken_over"("workspace_id", "origin", "number");

-- AddForeignKey
ALTER TABLE "hand_over" ADD CONSTRAINT "hand_over_workspace_fkey" FOREIGN KEY ("workspace_id") REFERENCES "workspace"("workspace_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "hand_over" ADD CONSTRAINT "hand_over_maker_fkey" FOREIGN KEY ("workspace_id", "made_by") REFERENCES "membership"("workspace_id", "person_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "hand_over_animal" ADD CONSTRAINT "hand_over_animal_hand_over_fkey" FOREIGN KEY ("workspace_id", "hand_over_id") REFERENCES "hand_over"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "hand_over_animal" ADD CONSTRAINT "hand_over_animal_individual_fkey" FOREIGN KEY ("workspace_id", "individual_id") REFERENCES "individual"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "hand_over_animal" ADD CONSTRAINT "hand_over_animal_entry_fkey" FOREIGN KEY ("workspace_id", "entry_id") REFERENCES "head_count_entry"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "taken_over" ADD CONSTRAINT "taken_over_individual_fkey" FOREIGN KEY ("workspace_id", "individual_id") REFERENCES "individual"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

CALL app.close_table('hand_over');
CALL app.close_table('hand_over_animal');
CALL app.close_table('taken_over');
GRANT SELECT, INSERT, UPDATE ON hand_over, hand_over_animal TO oothecary_app;
GRANT SELECT, INSERT ON taken_over TO oothecary_app;

ALTER TABLE hand_over
  ADD CONSTRAINT hand_over_ends_once CHECK (num_nonnulls(withdrawn_on, accepted_on) <= 1),
  ADD CONSTRAINT hand_over_accepted CHECK (num_nulls(accepted_on, claim, content) IN (0, 3)),
  ADD CONSTRAINT hand_over_days CHECK (withdrawn_on >= offered_on AND accepted_on >= offered_on);
ALTER TABLE taken_over ADD CONSTRAINT taken_over_number CHECK (number >= 0);
