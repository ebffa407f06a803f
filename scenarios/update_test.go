package scenarios

import "flag"

// update writes the files that tests compare with anew. A change of the schema is a change of the format: say so in the
// changelog.
var update = flag.Bool("update", false, "write the files that tests compare with")
