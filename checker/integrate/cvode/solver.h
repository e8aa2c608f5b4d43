//go:build cvode

#include <stdint.h>

// A problem is one system as CVODE and KLU hold it, with what the callbacks need.
typedef struct problem problem;

typedef struct {
	uintptr_t handle; // of the Go Solver
	int64_t size, entries, roots;
	const int64_t *start, *row; // the matrix by compressed columns, diagonal included
	const int *directions;      // of the roots: 1 rising, -1 falling, 0 either
	const double *relative, *absolute;
	int order, ordering, dense;
	double largest;
} setup;

typedef struct {
	long steps, inaccurate, unconverged; // accepted; rejected by error; Newton failures
	long evaluations, jacobians, roots;  // calls into Go
	long factorisations, iterations, starts;
} counts;

problem *problem_new(const setup *s);
void problem_free(problem *p);
double *problem_state(problem *p);
int problem_start(problem *p, double t);
int problem_advance(problem *p, double to, double stop, double *t);
int problem_roots(problem *p, int *found);
int problem_slope(problem *p, double t, double *dy);
void problem_counts(problem *p, counts *c);
const char *problem_flag(int flag);
double thread_seconds(void);
int problem_evaluate(problem *p, double t, long times);
