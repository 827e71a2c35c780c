-- What was said of parts: how many there are and are to come, how long they take, what they cost.
-- CreateTable
CREATE TABLE "part_lines" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "part" TEXT NOT NULL,
    "whole" BOOLEAN NOT NULL,
    "on_hand" INTEGER,
    "on_order" INTEGER,
    "due_on" DATE,
    "lead_days" INTEGER,
    "price" DOUBLE PRECISION,
    "supplier" TEXT,
    "notes" JSONB NOT NULL DEFAULT '{}',
    "entered_at" TIMESTAMPTZ(3) NOT NULL,
    "entered_by" UUID,
    "intake_id" UUID,
    "withdrawn_at" TIMESTAMPTZ(3),
    "withdrawn_by" UUID,

    CONSTRAINT "part_lines_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateIndex
CREATE INDEX "part_lines_organisation_id_part_idx" ON "part_lines"("organisation_id", "part");

-- CreateIndex
CREATE INDEX "part_lines_organisation_id_intake_id_idx" ON "part_lines"("organisation_id", "intake_id");

-- By hand: row-level security, as for the other tables.
ALTER TABLE "part_lines" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "part_lines" FORCE ROW LEVEL SECURITY;
CREATE POLICY own_organisation ON "part_lines" USING (organisation_id = nullif(current_setting('gudgeon.organisation', true), '')::uuid);
