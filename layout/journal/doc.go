// Package journal keeps the work on a plan safe between two savings, and keeps two windows from working on one plan
// without knowing.
//
// A [Journal] writes every edit of a document to a file beside the plan within a second, so that after a crash [Recover] gives
// back all but what was done in the last second. A [Lock] tells others that the plan is open. A [Stamp] tells when the
// plan's file was changed by something else.
//
// A journal is a text file. Each line is a checksum (CRC-32 of the rest, eight hexadecimal digits), a blank and one JSON value: first
// a header with the plan that the edits build on, then edits, and a mark before every saving.
package journal
