package webtest

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/chromedp/cdproto/accessibility"
	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/dom"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

// fields are the roles of what can be filled in, as Chromium names them.
var fields = []string{
	"textbox", "searchbox", "spinbutton", "combobox", "listbox", "checkbox", "radio", "switch", "slider",
	"Date", "DateTime", "InputTime", "ColorWell",
}

// element is one thing of the page as assistive technology is told of it.
type element struct {
	role, name string
	node       cdp.BackendNodeID
}

func (e element) String() string { return fmt.Sprintf("%s %q", e.role, e.name) }

// elements lists everything with a role and a name, in the page's order.
func (p *Page) elements() ([]element, error) {
	return try(p, func(ctx context.Context, t *chromedp.Target) ([]element, error) {
		document, err := cdp.Call(ctx, t, dom.GetDocument, dom.GetDocumentParams{})
		if err != nil {
			return nil, err
		}
		tree, err := cdp.Call(ctx, t, accessibility.QueryAXTree, accessibility.QueryAXTreeParams{BackendNodeID: document.Root.BackendNodeID})
		if err != nil {
			return nil, err
		}
		var all []element
		for _, node := range tree.Nodes {
			if role, name := text(node.Role), text(node.Name); !node.Ignored && role != "" && node.BackendDOMNodeID != 0 {
				all = append(all, element{role: role, name: name, node: node.BackendDOMNodeID})
			}
		}
		return all, nil
	})
}

// text reads a value of the accessibility tree, with runs of space made one.
func text(value *accessibility.Value) string {
	if value == nil {
		return ""
	}
	var s string
	if json.Unmarshal([]byte(value.Value), &s) != nil {
		return ""
	}
	return strings.Join(strings.Fields(s), " ")
}

// find waits for the one element of the roles and the name. An exact name
// goes before names that only begin with it.
func (p *Page) find(roles []string, name string) element {
	p.t.Helper()
	var found element
	p.eventually(func() error {
		all, err := p.elements()
		if err != nil {
			return err
		}
		found, err = pick(all, roles, name)
		return err
	})
	return found
}

func pick(all []element, roles []string, name string) (element, error) {
	var exact, begins, others []element
	for _, e := range all {
		switch {
		case !slices.Contains(roles, e.role):
		case e.name == name:
			exact = append(exact, e)
		case strings.HasPrefix(e.name, name):
			begins = append(begins, e)
		default:
			others = append(others, e)
		}
	}
	matches := exact
	if len(matches) == 0 {
		matches = begins
	}
	switch len(matches) {
	case 1:
		return matches[0], nil
	case 0:
		return element{}, fmt.Errorf("there is no %s named %q; there are %v", strings.Join(roles, " or "), name, others)
	}
	return element{}, fmt.Errorf("%d things answer to %s %q; give the name in full or make the names differ", len(matches), strings.Join(roles, " or "), name)
}

// on calls a JavaScript function with the element as this.
func on[T any](p *Page, e element, function string, args ...any) (T, error) {
	return try(p, func(ctx context.Context, t *chromedp.Target) (T, error) {
		var none T
		resolved, err := cdp.Call(ctx, t, dom.ResolveNode, dom.ResolveNodeParams{BackendNodeID: e.node})
		if err != nil {
			return none, err
		}
		if resolved.Object == nil {
			return none, errors.New("the element is gone")
		}
		call := chromedp.CallFunctionOn[T](function, func(params *runtime.CallFunctionOnParams) {
			params.ObjectID = resolved.Object.ObjectID
		}, args...)
		return call(ctx, t)
	})
}
