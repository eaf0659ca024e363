namespace Whetwright.Core.Metrology;

/// <summary>What one source gives to a result's standard uncertainty. Over a whole budget of independent sources the squares add up.</summary>
/// <param name="Source">What it comes from.</param>
/// <param name="Uncertainty">Its part of the standard uncertainty, in the unit of the result; zero or more.</param>
public readonly record struct BudgetShare(string Source, double Uncertainty);
