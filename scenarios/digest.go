package scenarios

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"slices"
	"strings"
)

// digest is the SHA-256, in hexadecimal, over the scenario's bytes and then those of every file that it names, in order of
// their paths; before each goes its length in eight bytes, most significant first, so that no two inputs run together to
// the same bytes. Paths are not part of it beyond their being written in the scenario.
func digest(scenario []byte, files []*file) string {
	sum := sha256.New()
	add := func(data []byte) {
		var length [8]byte
		binary.BigEndian.PutUint64(length[:], uint64(len(data)))
		sum.Write(length[:])
		sum.Write(data)
	}
	add(scenario)
	files = slices.Clone(files)
	slices.SortFunc(files, func(a, b *file) int { return strings.Compare(a.path, b.path) })
	for _, f := range files {
		add(f.data)
	}
	return hex.EncodeToString(sum.Sum(nil))
}

// DigestWith is the digest of what is made of a scenario by setting values in it, each a path and what was set: the SHA-256, in
// hexadecimal, over the scenario's own digest and the words, a line each. Without words it is the scenario's own.
func (s *Scenario) DigestWith(words ...string) string {
	if len(words) == 0 {
		return s.Digest
	}
	sum := sha256.Sum256([]byte(s.Digest + "\n" + strings.Join(words, "\n")))
	return hex.EncodeToString(sum[:])
}
