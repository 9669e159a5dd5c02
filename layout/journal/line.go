package journal

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"hash/crc32"
	"strconv"
)

// version is the number of the journal's own format.
const version = 1

// line is one line of a journal: the header, an edit or a mark.
type line struct {
	Journal int             `json:"stowbay_journal,omitempty"` // the header has the format's number
	Plan    string          `json:"plan,omitempty"`            // header: the plan's file, empty for a plan without a name
	Hash    string          `json:"hash,omitempty"`            // header: hash of that file; empty where it was never saved
	Base    string          `json:"base,omitempty"`            // header: the plan that the edits build on, as a plan file
	Edit    json.RawMessage `json:"edit,omitempty"`
	Saving  string          `json:"saving,omitempty"` // the plan is about to be saved; hash of the new file
}

// seal gives a line as it stands in the file.
func seal(l line) ([]byte, error) {
	data, err := json.Marshal(l)
	if err != nil {
		return nil, err
	}
	return fmt.Appendf(nil, "%08x %s\n", crc32.ChecksumIEEE(data), data), nil
}

// unseal reads a line without its end; ok is false where it is torn or was changed.
func unseal(data []byte) (l line, ok bool) {
	sum, body, found := bytes.Cut(data, []byte(" "))
	want, err := strconv.ParseUint(string(sum), 16, 32)
	if !found || err != nil || len(sum) != 8 || uint32(want) != crc32.ChecksumIEEE(body) {
		return line{}, false
	}
	return l, json.Unmarshal(body, &l) == nil
}

func hashOf(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}
