package notice_test

import (
	"fmt"
	"os"
	"path/filepath"
	"time"

	"drawbar/booking/notice"
)

func Example() {
	folder, err := os.MkdirTemp("", "mail")
	if err != nil {
		panic(err)
	}
	defer os.RemoveAll(folder)
	sender, err := notice.Open(folder)
	if err != nil {
		panic(err)
	}
	waiting := (&box{now: time.Unix(1e9, 0)}).add(2)
	err = notice.Deliver(ctx, waiting, sender, notice.From{Address: "office@coverdale.example"}, time.Now)
	files, _ := filepath.Glob(filepath.Join(folder, "*.eml"))
	fmt.Println(err, len(files))
	// Output: <nil> 2
}
