-- Workbooks that are being brought in.
-- CreateTable
CREATE TABLE "workbooks" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "content" BYTEA NOT NULL,
    "profile" JSON,
    "mapping" JSON,
    "earlier" JSON NOT NULL DEFAULT '[]',
    "intake_id" UUID,
    "told" JSON,
    "made_by" UUID,
    "made_at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "workbooks_pkey" PRIMARY KEY ("organisation_id","id")
);

-- By hand: row-level security, as for the other tables.
ALTER TABLE "workbooks" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "workbooks" FORCE ROW LEVEL SECURITY;
CREATE POLICY own_organisation ON "workbooks" USING (organisation_id = nullif(current_setting('gudgeon.organisation', true), '')::uuid);
