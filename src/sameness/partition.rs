//! Sorting vertices into classes until no neighbourhood tells two of a class apart.
//!
//! What happens depends on the graph and the order of the classes only, never on how the vertices are numbered.

// Colour refinement of an ordered partition: B. D. McKay, A. Piperno, "Practical graph isomorphism, II", Journal of
// Symbolic Computation 60, 2014 (from memory).

use std::cmp::Reverse;
use std::collections::VecDeque;
use std::ops::Range;

/// A graph: for each vertex its neighbours.
pub struct Graph {
    /// Where the neighbours of each vertex begin; one more at the end.
    starts: Vec<usize>,
    neighbours: Vec<usize>,
}

impl Graph {
    /// The graph of so many vertices with these edges.
    pub fn new(vertices: usize, edges: &[(usize, usize)]) -> Graph {
        let mut starts = vec![0; vertices + 1];
        for &(one, other) in edges {
            starts[one] += 1;
            starts[other] += 1;
        }
        let mut end = 0;
        for start in &mut starts {
            end += *start;
            *start = end;
        }
        let mut neighbours = vec![0; end];
        for &(one, other) in edges {
            for (from, to) in [(one, other), (other, one)] {
                starts[from] -= 1;
                neighbours[starts[from]] = to;
            }
        }
        Graph { starts, neighbours }
    }

    /// The neighbours of a vertex.
    fn of(&self, vertex: usize) -> &[usize] {
        &self.neighbours[self.starts[vertex]..self.starts[vertex + 1]]
    }
}

/// The vertices in classes that stand in an order. A class is named by the place where it begins.
#[derive(Clone)]
pub struct Partition {
    /// The vertices, class by class.
    order: Vec<usize>,
    /// For each vertex, its place in `order`.
    place: Vec<usize>,
    /// For each vertex, its class.
    class: Vec<usize>,
    /// For each class, how many vertices it has; 0 where none begins.
    len: Vec<usize>,
    /// How many vertices are to be told apart, those of the first places.
    wanted: usize,
    /// How many classes these are in.
    told: usize,
}

impl Partition {
    /// The vertices of one colour are a class; the classes stand in the order of the colours. So many vertices are to be
    /// told apart, which have the first colours.
    pub fn by_colour<C: Ord>(colours: &[C], wanted: usize) -> Partition {
        let mut order: Vec<usize> = (0..).take(colours.len()).collect();
        order.sort_by_key(|&vertex| &colours[vertex]);
        let none = vec![0; order.len()];
        let mut new =
            Partition { place: none.clone(), class: none.clone(), len: none, order, wanted, told: 0 };
        let mut class = 0;
        for (at, &vertex) in new.order.iter().enumerate() {
            let first = new.order[class];
            if colours[vertex] != colours[first] {
                class = at;
            }
            new.place[vertex] = at;
            new.class[vertex] = class;
            new.len[class] += 1;
        }
        new.told = new.classes(0..wanted).count();
        new
    }

    /// The vertices that are to be told apart, if they are.
    pub fn told_apart(&self) -> Option<&[usize]> {
        (self.told == self.wanted).then(|| &self.order[..self.wanted])
    }

    /// The classes in these places, which begin and end with one.
    fn classes(&self, places: Range<usize>) -> impl Iterator<Item = Range<usize>> {
        let mut left = places;
        std::iter::from_fn(move || {
            let class = (!left.is_empty()).then(|| self.range(left.start))?;
            left.start = class.end;
            Some(class)
        })
    }

    fn range(&self, class: usize) -> Range<usize> {
        class..class + self.len[class]
    }

    /// Puts a vertex in this place, and the one that stood there in its place.
    fn put(&mut self, vertex: usize, at: usize) {
        let (old, other) = (self.place[vertex], self.order[at]);
        self.place.swap(vertex, other);
        self.order.swap(old, at);
    }

    /// Cuts a class before this place.
    fn cut(&mut self, class: usize, at: usize) {
        let end = self.range(class).end;
        self.told += usize::from(at < self.wanted);
        (self.len[class], self.len[at]) = (at - class, end - at);
        for &vertex in &self.order[at..end] {
            self.class[vertex] = at;
        }
    }
}

/// Refines partitions of one graph.
pub struct Refiner {
    graph: Graph,
    /// The classes by which others are still to be split, first come, first served; and which classes these are.
    queue: VecDeque<usize>,
    queued: Vec<bool>,
    /// How many neighbours each vertex has in the class that is looked at, and the vertices that have any.
    count: Vec<usize>,
    touched: Vec<usize>,
}

impl Refiner {
    pub fn new(graph: Graph) -> Refiner {
        let vertices = graph.starts.len() - 1;
        Refiner {
            graph,
            queue: VecDeque::new(),
            queued: vec![false; vertices],
            count: vec![0; vertices],
            touched: Vec::new(),
        }
    }

    /// Refines by all classes. The number sums up what happened: where it differs, no renumbering of the vertices
    /// carries one case to the other.
    pub fn refine(&mut self, partition: &mut Partition) -> u64 {
        for class in partition.classes(0..partition.order.len()) {
            self.push(class.start);
        }
        self.run(partition)
    }

    /// Puts a vertex before the others of its class, and refines by it. The number is like that of
    /// [`Refiner::refine`].
    pub fn single_out(&mut self, partition: &mut Partition, vertex: usize) -> u64 {
        let class = partition.class[vertex];
        partition.put(vertex, class);
        partition.cut(class, class + 1);
        self.push(class);
        self.run(partition)
    }

    /// Of the vertices that are to be told apart a class of several, if there is one: of those that lie on parts of the
    /// most other classes, as there singling one out tells most, the first of the smallest.
    pub fn alike<'a>(&self, partition: &'a Partition) -> &'a [usize] {
        let several = partition.classes(0..partition.wanted).filter(|class| class.len() > 1);
        let told = |class: &Range<usize>| {
            let neighbours = self.graph.of(partition.order[class.start]);
            let mut classes: Vec<_> = neighbours.iter().map(|&vertex| partition.class[vertex]).collect();
            classes.sort_unstable();
            let parts =
                classes.chunk_by(|a, b| a == b).filter(|part| part.len() < partition.range(part[0]).len());
            parts.count()
        };
        several
            .min_by_key(|class| (Reverse(told(class)), class.len()))
            .map_or(&[], |class| &partition.order[class])
    }

    fn push(&mut self, class: usize) {
        if !std::mem::replace(&mut self.queued[class], true) {
            self.queue.push_back(class);
        }
    }

    fn run(&mut self, partition: &mut Partition) -> u64 {
        let mut trace = 0;
        let mut touched = std::mem::take(&mut self.touched);
        while let Some(splitter) = self.queue.pop_front() {
            self.queued[splitter] = false;
            if partition.told_apart().is_some() {
                continue; // it only empties the queue
            }
            let mut alone = 0_u64;
            for &vertex in &partition.order[partition.range(splitter)] {
                for &neighbour in self.graph.of(vertex) {
                    let class = partition.class[neighbour];
                    if partition.len[class] == 1 {
                        alone = alone.wrapping_add(mixed(1, class));
                        continue;
                    }
                    let count = &mut self.count[neighbour];
                    if *count == 0 {
                        touched.push(neighbour);
                    }
                    *count += 1;
                }
            }
            touched.sort_unstable_by_key(|&vertex| (partition.class[vertex], self.count[vertex]));
            trace = mixed(trace ^ alone, splitter);
            let mut rest = &touched[..];
            while let Some(&first) = rest.first() {
                let class = partition.class[first];
                let count = rest.iter().take_while(|&&vertex| partition.class[vertex] == class).count();
                trace = self.split(partition, &rest[..count], trace);
                rest = &rest[count..];
            }
            for vertex in touched.drain(..) {
                self.count[vertex] = 0;
            }
        }
        self.touched = touched;
        trace
    }

    /// Splits a class by the counts: those that have none first, then these, which stand in the order of their counts.
    fn split(&mut self, partition: &mut Partition, touched: &[usize], mut trace: u64) -> u64 {
        let count = |vertex: usize| self.count[vertex];
        let whole = partition.range(partition.class[touched[0]]);
        let mut end = whole.end;
        for alike in touched.chunk_by(|&a, &b| count(a) == count(b)).rev() {
            trace = mixed(mixed(trace, end), count(alike[0]));
            for &vertex in alike {
                end -= 1;
                partition.put(vertex, end);
            }
            if end > whole.start {
                partition.cut(whole.start, end);
            }
        }
        // Where the class has done its splitting, all of its parts but one do the rest.
        let all = self.queued[whole.start];
        let spared = partition.classes(whole.clone()).min_by_key(|part| Reverse(part.len()));
        for part in partition.classes(whole).filter(|part| all || Some(part) != spared.as_ref()) {
            self.push(part.start);
        }
        trace
    }
}

/// Sums up one number more.
pub fn mixed(sum: u64, more: usize) -> u64 {
    (sum ^ more as u64).wrapping_mul(0x9E37_79B9_7F4A_7C15).rotate_left(29)
}
