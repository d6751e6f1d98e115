-- Care sheets of egg cases, of several animals at once and in batches; photos of animals.

SET lock_timeout = '5s';

-- New links of tables that hold rows are checked by a query, which row-level security would stop without a workspace.
ALTER TABLE care_sheet NO FORCE ROW LEVEL SECURITY;
ALTER TABLE public_link NO FORCE ROW LEVEL SECURITY;
ALTER TABLE egg_case NO FORCE ROW LEVEL SECURITY;
ALTER TABLE species NO FORCE ROW LEVEL SECURITY;

-- AlterTable
ALTER TABLE "care_sheet" ADD COLUMN     "batch_id" UUID,
ADD COLUMN     "egg_case_id" UUID,
ADD COLUMN     "lot_id" UUID,
ADD COLUMN     "note" TEXT NOT NULL DEFAULT '',
ALTER COLUMN "individual_id" DROP NOT NULL,
ALTER COLUMN "profile_number" DROP NOT NULL;

-- AlterTable
ALTER TABLE "public_link" ADD COLUMN     "egg_case_id" UUID,
ADD COLUMN     "lot_id" UUID,
ALTER COLUMN "individual_id" DROP NOT NULL;

-- AlterTable
ALTER TABLE "workspace" ADD COLUMN     "food_text" TEXT NOT NULL DEFAULT '';

-- CreateTable
CREATE TABLE "sheet_lot" (
    "workspace_id" UUID NOT NULL,
    "id" UUID NOT NULL DEFAULT uuidv7(),
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "sheet_lot_pkey" PRIMARY KEY ("workspace_id","id")
);

-- CreateTable
CREATE TABLE "sheet_batch" (
    "workspace_id" UUID NOT NULL,
    "id" UUID NOT NULL DEFAULT uuidv7(),
    "language" TEXT NOT NULL,
    "paper" TEXT NOT NULL,
    "total" INTEGER NOT NULL,
    "done" INTEGER NOT NULL DEFAULT 0,
    "failure" TEXT,
    "created_by" UUID,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "sheet_batch_pkey" PRIMARY KEY ("workspace_id","id")
);

-- CreateTable
CREATE TABLE "sheet_batch_file" (
    "workspace_id" UUID NOT NULL,
    "batch_id" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "sheets" INTEGER NOT NULL,
    "bytes" BYTEA,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "sheet_batch_file_pkey" PRIMARY KEY ("workspace_id","batch_id","number")
);

-- CreateTable
CREATE TABLE "photo" (
    "workspace_id" UUID NOT NULL,
    "id" UUID NOT NULL DEFAULT uuidv7(),
    "individual_id" UUID NOT NULL,
    "width_px" INTEGER NOT NULL,
    "height_px" INTEGER NOT NULL,
    "on_sheet" BOOLEAN NOT NULL DEFAULT false,
    "added_by" UUID,
    "archived_at" TIMESTAMPTZ(3),
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "photo_pkey" PRIMARY KEY ("workspace_id","id")
);

-- CreateTable
CREATE TABLE "photo_content" (
    "workspace_id" UUID NOT NULL,
    "photo_id" UUID NOT NULL,
    "full" BYTEA NOT NULL,
    "small" BYTEA NOT NULL,

    CONSTRAINT "photo_content_pkey" PRIMARY KEY ("workspace_id","photo_id")
);

-- CreateIndex
CREATE INDEX "photo_individual_idx" ON "photo"("workspace_id", "individual_id");

-- CreateIndex
CREATE UNIQUE INDEX "photo_on_sheet_once" ON "photo"("workspace_id", "individual_id") WHERE (on_sheet AND (archived_at IS NULL));

-- CreateIndex
CREATE INDEX "care_sheet_egg_case_idx" ON "care_sheet"("workspace_id", "egg_case_id");

-- CreateIndex
CREATE INDEX "care_sheet_lot_idx" ON "care_sheet"("workspace_id", "lot_id");

-- CreateIndex
CREATE INDEX "care_sheet_batch_idx" ON "care_sheet"("workspace_id", "batch_id");

-- CreateIndex
CREATE UNIQUE INDEX "public_link_egg_case_key" ON "public_link"("workspace_id", "egg_case_id");

-- CreateIndex
CREATE UNIQUE INDEX "public_link_lot_key" ON "public_link"("workspace_id", "lot_id");

-- AddForeignKey
ALTER TABLE "care_sheet" ADD CONSTRAINT "care_sheet_egg_case_fkey" FOREIGN KEY ("workspace_id", "egg_case_id") REFERENCES "egg_case"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "care_sheet" ADD CONSTRAINT "care_sheet_lot_fkey" FOREIGN KEY ("workspace_id", "lot_id") REFERENCES "sheet_lot"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "care_sheet" ADD CONSTRAINT "care_sheet_batch_fkey" FOREIGN KEY ("workspace_id", "batch_id") REFERENCES "sheet_batch"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "care_sheet" ADD CONSTRAINT "care_sheet_species_fkey" FOREIGN KEY ("workspace_id", "species_id") REFERENCES "species"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "sheet_batch" ADD CONSTRAINT "sheet_batch_creator_fkey" FOREIGN KEY ("workspace_id", "created_by") REFERENCES "membership"("workspace_id", "person_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "sheet_batch_file" ADD CONSTRAINT "sheet_batch_file_batch_fkey" FOREIGN KEY ("workspace_id", "batch_id") REFERENCES "sheet_batch"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "public_link" ADD CONSTRAINT "public_link_egg_case_fkey" FOREIGN KEY ("workspace_id", "egg_case_id") REFERENCES "egg_case"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "public_link" ADD CONSTRAINT "public_link_lot_fkey" FOREIGN KEY ("workspace_id", "lot_id") REFERENCES "sheet_lot"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "photo" ADD CONSTRAINT "photo_individual_fkey" FOREIGN KEY ("workspace_id", "individual_id") REFERENCES "individual"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "photo" ADD CONSTRAINT "photo_adder_fkey" FOREIGN KEY ("workspace_id", "added_by") REFERENCES "membership"("workspace_id", "person_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "photo_content" ADD CONSTRAINT "photo_content_photo_fkey" FOREIGN KEY ("workspace_id", "photo_id") REFERENCES "photo"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

ALTER TABLE "sheet_lot" ADD CONSTRAINT "sheet_lot_workspace_fkey" FOREIGN KEY ("workspace_id") REFERENCES "workspace"("workspace_id") ON DELETE RESTRICT ON UPDATE RESTRICT;
ALTER TABLE "sheet_batch" ADD CONSTRAINT "sheet_batch_workspace_fkey" FOREIGN KEY ("workspace_id") REFERENCES "workspace"("workspace_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

ALTER TABLE care_sheet FORCE ROW LEVEL SECURITY;
ALTER TABLE public_link FORCE ROW LEVEL SECURITY;
ALTER TABLE egg_case FORCE ROW LEVEL SECURITY;
ALTER TABLE species FORCE ROW LEVEL SECURITY;

-- The bytes of pictures and files stay out of the audit trail: that they came is in it, and they never change.
CALL app.close_table('sheet_lot');
CALL app.close_table('sheet_batch');
CALL app.close_table('sheet_batch_file', false);
CALL app.close_table('photo');
CALL app.close_table('photo_content', false);
GRANT SELECT, INSERT ON sheet_lot, photo_content TO oothecary_app;
GRANT SELECT, INSERT, UPDATE ON sheet_batch, sheet_batch_file, photo TO oothecary_app;

ALTER TABLE care_sheet
  ADD CONSTRAINT care_sheet_subject CHECK (num_nonnulls(individual_id, egg_case_id) = 1),
  ADD CONSTRAINT care_sheet_lot_animals CHECK (lot_id IS NULL OR individual_id IS NOT NULL),
  ADD CONSTRAINT care_sheet_note_length CHECK (char_length(note) <= 4000);
ALTER TABLE public_link
  ADD CONSTRAINT public_link_subject CHECK (num_nonnulls(individual_id, egg_case_id, lot_id) = 1);
ALTER TABLE sheet_batch
  ADD CONSTRAINT sheet_batch_counts CHECK (total BETWEEN 1 AND 500 AND done BETWEEN 0 AND total);
ALTER TABLE photo
  ADD CONSTRAINT photo_size CHECK (width_px BETWEEN 1 AND 4000 AND height_px BETWEEN 1 AND 4000);
ALTER TABLE photo_content
  ADD CONSTRAINT photo_content_size CHECK (octet_length("full") BETWEEN 1 AND 1048576 AND octet_length(small) BETWEEN 1 AND 262144);
