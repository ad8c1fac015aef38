package proof

import (
	"context"

	"example.org/roombrief/planner/promises"
)

// Prove decides one promise with what the cache knows, and adds to it. It doesn't look for the weakest assumption.
func (c *Cache) Prove(ctx context.Context, ix *promises.Index, p promises.Promise, e Effort) (Verdict, error) {
	v, err := prove(ctx, ix, p, e, c)
	if err == nil {
		err = ctx.Err()
	}
	return v, err
}
