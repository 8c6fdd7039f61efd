package road

import (
	"context"
	"io"

	"drawbar/routing/road/extract"
	"drawbar/routing/road/roadfile"
)

// Import makes a road file of an OpenStreetMap extract. It reads the extract
// twice. Nothing is written unless all went well up to there.
func Import(ctx context.Context, in io.ReadSeeker, out io.Writer, opts extract.Options) (*extract.Report, error) {
	roads, report, err := extract.Import(ctx, in, opts)
	if err != nil {
		return nil, err
	}
	return report, roadfile.Write(out, roads)
}
