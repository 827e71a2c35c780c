-- Engine families that are taken in from somebody else's library file, and those that were.
-- CreateTable
CREATE TABLE "family_takings" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "source" TEXT NOT NULL,
    "file" JSON NOT NULL,
    "chosen" TEXT,
    "key" TEXT,
    "choices" JSON NOT NULL DEFAULT '{}',
    "made_by" UUID,
    "made_at" TIMESTAMPTZ(3) NOT NULL,
    "library_version" INTEGER,
    "taken_by" UUID,
    "taken_at" TIMESTAMPTZ(3),

    CONSTRAINT "family_takings_pkey" PRIMARY KEY ("organisation_id","id")
);

-- By hand: row-level security, as for the other tables.
ALTER TABLE "family_takings" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "family_takings" FORCE ROW LEVEL SECURITY;
CREATE POLICY own_organisation ON "family_takings" USING (organisation_id = nullif(current_setting('gudgeon.organisation', true), '')::uuid);
